import { BLUE_HOUR_DEG, GOLDEN_HOUR_DEG } from "../almanac/golden-hour";
import type { SessionScene } from "./scene";
import type { SessionPart, SessionSpan } from "./session";

/** A stretch of good light. */
export interface GoodLight {
  readonly start: string;
  readonly end: string;
  readonly minutes: number;
}

/** The good light of one session, wherever midnight falls in it. */
export interface SessionLightReport {
  readonly part: SessionPart;
  /** Direct light of a low sun on what is photographed, in order. */
  readonly golden: readonly GoodLight[];
  /** Blue hours, in order. */
  readonly blueHour: readonly GoodLight[];
}

interface Interval {
  readonly startMs: number;
  readonly endMs: number;
}

/** The golden and blue light of a session: not that of the calendar day, which may hold last night's. */
export function sessionLight(
  span: SessionSpan,
  scene: SessionScene,
  toSecond: (ms: number) => string,
): SessionLightReport {
  const written = (intervals: readonly Interval[]): GoodLight[] =>
    intervals.map(({ startMs, endMs }) => ({
      start: toSecond(startMs),
      end: toSecond(endMs),
      minutes: (endMs - startMs) / 60_000,
    }));
  const low = between(scene, GOLDEN_HOUR_DEG);
  const golden = low.flatMap((stretch) => scene.directLight.flatMap((lit) => overlap(stretch, lit)));
  return { part: span.part, golden: written(golden), blueHour: written(between(scene, BLUE_HOUR_DEG)) };
}

/** Where the sun stands between two altitudes, pieces that meet taken as one. */
function between({ sunCourse }: SessionScene, [low, high]: readonly [number, number]): Interval[] {
  const intervals: { startMs: number; endMs: number }[] = [];
  for (const piece of sunCourse.between(low, high)) {
    if (piece === undefined) continue;
    const [startMs, endMs] = piece;
    const before = intervals.at(-1);
    if (before !== undefined && startMs - before.endMs < 1) before.endMs = endMs;
    else intervals.push({ startMs, endMs });
  }
  return intervals;
}

function overlap(a: Interval, b: Interval): Interval[] {
  const startMs = Math.max(a.startMs, b.startMs);
  const endMs = Math.min(a.endMs, b.endMs);
  return endMs > startMs ? [{ startMs, endMs }] : [];
}
