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

/**
 * A light curve through samples, as from a few meter readings.
 * @param samples at least two, their instants ascending [Unix ms], light [EV100] -40 to 40
 * @param param name to report errors under
 * @throws DomainError for too few or too many, out of order or out of range
 * @example lightCurveFromSamples([{ instantMs: 0, ev100: 10 }, { instantMs: 600_000, ev100: 8 }])
 */
export function lightCurveFromSamples(samples: readonly LightSample[], param = "samples"): LightCurve {
  if (!(samples.length >= 2 && samples.length <= MOST_SAMPLES)) {
    throw new DomainError({ param, given: samples.length, allowed: `2 to ${MOST_SAMPLES} samples` });
  }
  const instantsMs: number[] = [];
  const ev100: number[] = [];
  for (let i = 0; i < samples.length; i++) {
    const sample = samples[i] as LightSample;
    requireInRange(`${param}.${i}.ev100`, sample.ev100, EV100_RANGE.min, EV100_RANGE.max, "EV100");
    requireInRange(`${param}.${i}.instantMs`, sample.instantMs, -8.64e15, 8.64e15, "ms");
    if (i > 0) {
      const before = samples[i - 1] as LightSample;
      if (!(sample.instantMs > before.instantMs)) {
        const allowed = "instants that ascend, no two the same";
        throw new DomainError({ param: `${param}.${i}.instantMs`, given: sample.instantMs, allowed });
      }
    }
    instantsMs.push(sample.instantMs);
    ev100.push(sample.ev100);
  }
  return {
    startMs: instantsMs[0] as number,
    endMs: instantsMs[instantsMs.length - 1] as number,
    instantsMs,
    ev100,
  };
}

/**
 * A light curve through a model, sampled as densely as the model bends: until the straight line between two samples is within
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
  const sampleAt = (instantMs: number): LightSample => ({
    instantMs,
    ev100: requireInRange(param, ev100At(instantMs), EV100_RANGE.min, EV100_RANGE.max, "EV100"),
  });
  const samples: LightSample[] = [];
  const refine = (left: LightSample, right: LightSample, depth: number): void => {
    const middle = sampleAt((left.instantMs + right.instantMs) / 2);
    const bend = Math.abs(middle.ev100 - (left.ev100 + right.ev100) / 2);
    if (bend <= toleranceStops || depth === 0) {
      samples.push(middle, right);
      return;
    }
    refine(left, middle, depth - 1);
    refine(middle, right, depth - 1);
  };
  // a bend that is symmetric about the middle of a piece hides from its midpoint, so the pieces start short
  const pieces = Math.max(8, Math.min(2000, Math.ceil((endMs - startMs) / 120_000)));
  let left = sampleAt(startMs);
  samples.push(left);
  for (let i = 1; i <= pieces; i++) {
    const right = sampleAt(i === pieces ? endMs : startMs + ((endMs - startMs) * i) / pieces);
    refine(left, right, 12);
    left = right;
  }
  return lightCurveFromSamples(samples, param);
}

/** The same curve moved by a number of stops, as when a meter reading says that a model is off. */
export function shiftLightCurve(curve: LightCurve, stops: number): LightCurve {
  return { ...curve, ev100: curve.ev100.map((value) => value + stops) };
}

/**
 * The light [EV100] of a curve at an instant [Unix ms] within it.
 * @throws DomainError for an instant outside the curve
 */
export function ev100OnCurve(curve: LightCurve, instantMs: number, param = "instantMs"): number {
  requireWithin(curve, instantMs, param);
  const i = pieceAt(curve, instantMs);
  return at(curve.ev100, i) + slopeOf(curve, i) * ((instantMs - at(curve.instantsMs, i)) / 1000);
}

/**
 * Light gathered by a shutter that opens at an instant and stays open, in seconds of EV100 0: the time for which a light of EV100 0 would
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
 * How long a shutter that opens at `fromMs` needs to gather an amount of light.
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
