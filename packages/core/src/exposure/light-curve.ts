import { DomainError, requireInRange, requirePositive } from "../domain-error";
import { lastIndexAtOrBelow } from "../interpolation";
import { EV100_RANGE } from "./exposure-value";

/** The light at one instant. */
export interface LightSample {
  /** Unix milliseconds. */
  readonly instantMs: number;
  readonly ev100: number;
}

/**
 * The light over a span of time, straight in stops between its samples: between two of them the light itself grows or fades exponentially,
 * which is how daylight goes through twilight.
 */
export interface LightCurve {
  readonly startMs: number;
  readonly endMs: number;
  readonly instantsMs: readonly number[];
  readonly ev100: readonly number[];
}

const MOST_SAMPLES = 1_000_000;
/** What a date can hold [ms] (ECMA-262). */
const MOST_MS = 8.64e15;

/**
 * Make a light curve through samples, as from a few meter readings.
 * @param samples at least two, their instants ascending [Unix ms], light [EV100] -40 to 40
 * @param param name to report errors under
 * @throws DomainError for too few or too many, out of order or out of range
 * @example lightCurveFromSamples([{ instantMs: 0, ev100: 10 }, { instantMs: 600_000, ev100: 8 }])
 */
export function lightCurveFromSamples(samples: readonly LightSample[], param = "samples"): LightCurve {
  requireSampleCount(samples.length, param);
  const instantsMs: number[] = [];
  const ev100: number[] = [];
  for (const sample of samples) {
    requireSample(instantsMs, sample.instantMs, sample.ev100, param);
    instantsMs.push(sample.instantMs);
    ev100.push(sample.ev100);
  }
  return curveThrough(instantsMs, ev100);
}

/** Refuses a sample out of range, or not after those before it. Names are made only for what is refused: there are many samples. */
function requireSample(before: readonly number[], instantMs: number, ev100: number, param: string): void {
  const i = before.length;
  const inRange = ev100 >= EV100_RANGE.min && ev100 <= EV100_RANGE.max && Math.abs(instantMs) <= MOST_MS;
  if (inRange && (i === 0 || instantMs > at(before, i - 1))) return;
  requireInRange(`${param}.${i}.ev100`, ev100, EV100_RANGE.min, EV100_RANGE.max, "EV100");
  requireInRange(`${param}.${i}.instantMs`, instantMs, -MOST_MS, MOST_MS, "ms");
  const allowed = "instants that ascend, no two the same";
  throw new DomainError({ param: `${param}.${i}.instantMs`, given: instantMs, allowed });
}

function curveThrough(instantsMs: readonly number[], ev100: readonly number[]): LightCurve {
  return { startMs: at(instantsMs, 0), endMs: at(instantsMs, instantsMs.length - 1), instantsMs, ev100 };
}

/**
 * Make a light curve through a model, sampled as densely as the model bends: until the straight line between two samples is within
 * `toleranceStops` of the model half way.
 * @param ev100At the model: light [EV100] at an instant [Unix ms]
 * @param startMs first instant [Unix ms]
 * @param endMs last instant [Unix ms], after the first
 * @param toleranceStops [stops], 1e-6 to 1; default 0.002
 * @param param name to report errors under
 * @throws DomainError for a span that is empty, or a model that leaves EV100 -40 to 40
 * @example lightCurveFromModel((ms) => 12 - ms / 60_000, 0, 600_000)
 */
export function lightCurveFromModel(
  ev100At: (instantMs: number) => number,
  startMs: number,
  endMs: number,
  toleranceStops = 0.002,
  param = "light",
): LightCurve {
  requireInRange("toleranceStops", toleranceStops, 1e-6, 1, "stops");
  if (!(endMs > startMs)) throw new DomainError({ param: "endMs", given: endMs, allowed: "an instant after startMs" });
  const instantsMs: number[] = [];
  const ev100: number[] = [];
  const levelAt = (instantMs: number): number => {
    const level = ev100At(instantMs);
    return level >= EV100_RANGE.min && level <= EV100_RANGE.max
      ? level
      : requireInRange(param, level, EV100_RANGE.min, EV100_RANGE.max, "EV100");
  };
  const take = (instantMs: number, level: number): void => {
    requireSample(instantsMs, instantMs, level, param);
    instantsMs.push(instantMs);
    ev100.push(level);
  };
  const refine = (leftMs: number, left: number, rightMs: number, right: number, depth: number): void => {
    const middleMs = (leftMs + rightMs) / 2;
    const middle = levelAt(middleMs);
    const bend = Math.abs(middle - (left + right) / 2);
    if (bend <= toleranceStops || depth === 0) {
      take(middleMs, middle);
      take(rightMs, right);
      return;
    }
    refine(leftMs, left, middleMs, middle, depth - 1);
    refine(middleMs, middle, rightMs, right, depth - 1);
  };
  // a bend that is symmetric about the middle of a piece hides from its midpoint, so the pieces start short
  const pieces = Math.max(8, Math.min(2000, Math.ceil((endMs - startMs) / 120_000)));
  let leftMs = startMs;
  let left = levelAt(startMs);
  take(startMs, left);
  for (let i = 1; i <= pieces; i++) {
    const rightMs = i === pieces ? endMs : startMs + ((endMs - startMs) * i) / pieces;
    const right = levelAt(rightMs);
    refine(leftMs, left, rightMs, right, 12);
    leftMs = rightMs;
    left = right;
  }
  requireSampleCount(instantsMs.length, param);
  return curveThrough(instantsMs, ev100);
}

function requireSampleCount(count: number, param: string): void {
  if (count >= 2 && count <= MOST_SAMPLES) return;
  throw new DomainError({ param, given: count, allowed: `2 to ${MOST_SAMPLES} samples` });
}

/** Shift a light curve by a number of stops, as when a meter reading says that a model is off. */
export function shiftLightCurve(curve: LightCurve, stops: number): LightCurve {
  return { ...curve, ev100: curve.ev100.map((value) => value + stops) };
}

/**
 * Compute the light [EV100] of a curve at an instant [Unix ms] within it.
 * @throws DomainError for an instant outside the curve
 */
export function ev100OnCurve(curve: LightCurve, instantMs: number, param = "instantMs"): number {
  requireWithin(curve, instantMs, param);
  const i = pieceAt(curve, instantMs);
  return at(curve.ev100, i) + slopeOf(curve, i) * ((instantMs - at(curve.instantsMs, i)) / 1000);
}

/**
 * Compute the light gathered by a shutter that opens at an instant and stays open, in seconds of EV100 0: the time for which a light of EV100 0 would
 * give as much. Exact on each piece: the integral of 2^(a + b·t) in closed form.
 * @param curve the light
 * @param fromMs [Unix ms] within the curve
 * @param seconds [s], 0 or more, no longer than the light is known
 * @returns [s at EV100 0]
 * @throws DomainError outside the curve
 * Source: elementary integral. Accuracy: 1e-12 of the answer on the curve as given; held against exponential decay in
 * tests/core/exposure/light-curve.spec.ts.
 */
export function lightGathered(curve: LightCurve, fromMs: number, seconds: number): number {
  requireOpenWithin(curve, fromMs, seconds);
  // counted in seconds from the start: differences of Unix milliseconds would cost short exposures their digits
  let left = seconds;
  let total = 0;
  for (let i = pieceAt(curve, fromMs); i < curve.instantsMs.length - 1; i++) {
    const { level, slope, length } = pieceFrom(curve, i, Math.max(fromMs, at(curve.instantsMs, i)));
    const open = Math.min(left, length);
    total += pieceLight(level, slope, open);
    left -= open;
    if (left <= 0) break;
  }
  return total;
}

/**
 * Compute how long a shutter that opens at `fromMs` needs to gather an amount of light.
 * @param curve the light
 * @param fromMs [Unix ms] within the curve
 * @param amount [s at EV100 0], greater than 0
 * @returns [s], or undefined where the curve ends before
 * @throws DomainError for an instant outside the curve
 * Source and accuracy: as {@link lightGathered}, inverted in closed form.
 */
export function secondsUntilGathered(curve: LightCurve, fromMs: number, amount: number): number | undefined {
  requireWithin(curve, fromMs, "fromMs");
  requirePositive("amount", amount);
  let wanted = amount;
  let seconds = 0;
  for (let i = pieceAt(curve, fromMs); i < curve.instantsMs.length - 1; i++) {
    const { level, slope, length } = pieceFrom(curve, i, Math.max(fromMs, at(curve.instantsMs, i)));
    const available = pieceLight(level, slope, length);
    if (wanted <= available) {
      const rate = slope * Math.LN2;
      const still = wanted / 2 ** level;
      const x = rate * still;
      // the integral of level·e^(rate·t) solved for t; where the light hardly changes it is wanted/level
      return seconds + Math.min(length, Math.abs(x) < 1e-12 ? still : Math.log1p(Math.max(x, -1 + 1e-15)) / rate);
    }
    wanted -= available;
    seconds += length;
  }
  return undefined;
}

interface Piece {
  /** Light where it begins [EV100]. */
  readonly level: number;
  /** [stops/s] */
  readonly slope: number;
  /** [s] */
  readonly length: number;
}

/** A straight piece of the curve from an instant on it to its end. */
function pieceFrom(curve: LightCurve, i: number, fromMs: number): Piece {
  const startMs = at(curve.instantsMs, i);
  const endMs = at(curve.instantsMs, i + 1);
  const slope = slopeOf(curve, i);
  return { level: at(curve.ev100, i) + slope * ((fromMs - startMs) / 1000), slope, length: (endMs - fromMs) / 1000 };
}

/** @throws DomainError where the light is not known for as long as a shutter is open [s] */
export function requireOpenWithin(curve: LightCurve, fromMs: number, seconds: number): void {
  requireWithin(curve, fromMs, "fromMs");
  requireInRange("seconds", seconds, 0, Number.MAX_VALUE, "s");
  // a hair past the end is rounding of milliseconds, not darkness
  if (fromMs + seconds * 1000 > curve.endMs + 0.01) requireWithin(curve, fromMs + seconds * 1000, "seconds");
}

/** Light of a piece that is straight in stops: the integral of 2^(level + slope·t) over its length [s at EV100 0]. */
export function pieceLight(level: number, slope: number, length: number): number {
  const x = slope * length * Math.LN2;
  return 2 ** level * length * (Math.abs(x) < 1e-12 ? 1 : Math.expm1(x) / x);
}

/** Stops per second on a piece. */
export function slopeOf(curve: LightCurve, piece: number): number {
  const seconds = (at(curve.instantsMs, piece + 1) - at(curve.instantsMs, piece)) / 1000;
  return (at(curve.ev100, piece + 1) - at(curve.ev100, piece)) / seconds;
}

/** The piece that an instant within the curve lies on. */
export function pieceAt(curve: LightCurve, instantMs: number): number {
  return Math.min(curve.instantsMs.length - 2, lastIndexAtOrBelow(curve.instantsMs, instantMs));
}

function at(list: readonly number[], index: number): number {
  return list[index] as number;
}

function requireWithin(curve: LightCurve, instantMs: number, param: string): void {
  if (!(instantMs >= curve.startMs && instantMs <= curve.endMs)) {
    const iso = (ms: number): string => new Date(ms).toISOString();
    const allowed = `while the light is known, ${iso(curve.startMs)} to ${iso(curve.endMs)}`;
    throw new DomainError({ code: "impossible", param, given: instantMs, allowed });
  }
}
