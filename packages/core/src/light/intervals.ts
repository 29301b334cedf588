import type { Crossing } from "../roots";

/** A stretch of time, from and to [Unix ms]. */
export type Interval = readonly [number, number];

/** What two lists of stretches, each in order and none overlapping its next, have in common. */
export function overlap(one: readonly Interval[], other: readonly Interval[]): Interval[] {
  const common: Interval[] = [];
  let i = 0;
  let j = 0;
  while (i < one.length && j < other.length) {
    const [a, b] = one[i] as Interval;
    const [c, d] = other[j] as Interval;
    const start = Math.max(a, c);
    const end = Math.min(b, d);
    if (end > start) common.push([start, end]);
    if (b < d) i++;
    else j++;
  }
  return common;
}

/** Length of a list of stretches that do not overlap [ms]. */
export function lengthOf(intervals: readonly Interval[]): number {
  return intervals.reduce((sum, [a, b]) => sum + b - a, 0);
}

/** The stretches of [start, end] on which a curve is positive, from where it crosses zero; `atStart` is its value there, asked for where it crosses nowhere. */
export function positiveBetween(
  crossings: readonly Crossing[],
  start: number,
  end: number,
  atStart: () => number,
): Interval[] {
  const intervals: Interval[] = [];
  const first = crossings[0];
  let from = (first === undefined ? atStart() > 0 : first.direction === "falling") ? start : null;
  for (const { x, direction } of crossings) {
    if (direction === "rising") from ??= x;
    else if (from !== null) {
      if (x > from) intervals.push([from, x]);
      from = null;
    }
  }
  if (from !== null && end > from) intervals.push([from, end]);
  return intervals;
}
