import { sinDeg } from "../angles";
import { polishRoot } from "../roots";
import type { SkyTrack } from "../sky/track";
import { altitudeSineOf, extremesAmong, hourlyValues, hourMs } from "./culminations";
import { type AltitudeCrossing, type AltitudeCrossings, CROSSING_TOLERANCE_MS } from "./rise-set";

const HOUR_MS = 3_600_000;

/** A body's path over a span, cut into pieces on which it only rises or only falls. Found once and shared by every search over that span. */
export interface SkyCourse {
  readonly track: SkyTrack;
  /** First instant, and the end, not in it [Unix ms]. */
  readonly startMs: number;
  readonly endMs: number;
  /** The ends of the span and, between them, the highest and the lowest points [Unix ms]: the ends of the pieces. */
  readonly cuts: readonly number[];
  /** Whether it rises on each piece. */
  readonly rising: readonly boolean[];
  /** The stretch of each piece on which the body stands between two true altitudes [deg], from and to [Unix ms]; undefined where it nowhere does. */
  between(lowDeg: number, highDeg: number): readonly (readonly [number, number] | undefined)[];
  /** When it passes a true altitude [deg], in order, or on which side the body stays throughout. */
  crossings(altitudeDeg: number): AltitudeCrossings;
}

/**
 * Follows a body over a span: takes its altitude each hour, and finds its turns and crossings from there.
 * @param track where the body stands, known for an hour beyond both ends
 * @param startMs first instant [Unix ms]
 * @param endMs end of the span [Unix ms]
 * Accuracy: crossings to 0.02 s on the track; held by tests/core/almanac/course.spec.ts.
 */
export function skyCourse(track: SkyTrack, startMs: number, endMs: number): SkyCourse {
  const sine = altitudeSineOf(track);
  const hourly = hourlyValues(sine, startMs, endMs);
  const cuts = [startMs];
  for (const { instantMs } of extremesAmong(hourly, sine, startMs, endMs)) cuts.push(instantMs);
  cuts.push(endMs);
  const cutSines = cuts.map(sine);
  const rising = cuts.slice(1).map((_, piece) => (cutSines[piece + 1] as number) > (cutSines[piece] as number));

  const crossingOn = (piece: number, wanted: number): number | undefined => {
    let a = cuts[piece] as number;
    let b = cuts[piece + 1] as number;
    let atA = (cutSines[piece] as number) - wanted;
    let atB = (cutSines[piece + 1] as number) - wanted;
    const risesTo = atB > 0;
    if (atA > 0 === risesTo) return undefined;
    // find the hour of the crossing by bisection over the hourly values
    let first = Math.floor((a - startMs) / HOUR_MS) + 2;
    let last = Math.ceil((b - startMs) / HOUR_MS);
    while (first <= last) {
      const middle = (first + last) >> 1;
      const atMiddle = (hourly[middle] as number) - wanted;
      if (atMiddle > 0 === risesTo) {
        b = hourMs(startMs, middle);
        atB = atMiddle;
        last = middle - 1;
      } else {
        a = hourMs(startMs, middle);
        atA = atMiddle;
        first = middle + 1;
      }
    }
    // a cubic through the hourly values around it gives a guess within seconds
    const above = (ms: number): number => sine(ms) - wanted;
    const { s, slope } = cubicRoot(hourly, last, wanted);
    const guess = hourMs(startMs, last) + s * HOUR_MS;
    return polishRoot(above, guess, slope / HOUR_MS, a, b, CROSSING_TOLERANCE_MS, atA, atB);
  };

  // searches share bounds: each is found once, so that neighbouring windows meet to the last digit
  const known = new Map<number, readonly (number | undefined)[]>();
  /** When the body crosses a true altitude on each piece; undefined where it stays on one side of it. */
  const crossingInstants = (altitudeDeg: number): readonly (number | undefined)[] => {
    let found = known.get(altitudeDeg);
    if (found === undefined) {
      const wanted = sinDeg(altitudeDeg);
      const sought: (number | undefined)[] = [];
      for (let piece = 0; piece + 1 < cuts.length; piece++) sought.push(crossingOn(piece, wanted));
      found = sought;
      known.set(altitudeDeg, found);
    }
    return found;
  };
  const crossings = (altitudeDeg: number): AltitudeCrossings => {
    const found: AltitudeCrossing[] = [];
    const instants = crossingInstants(altitudeDeg);
    for (let piece = 0; piece < instants.length; piece++) {
      const instantMs = instants[piece];
      if (instantMs === undefined) continue;
      found.push({ instantMs, direction: rising[piece] === true ? "rising" : "falling" });
    }
    if (found.length > 0) return { kind: "crosses", crossings: found };
    return { kind: (cutSines[0] as number) > sinDeg(altitudeDeg) ? "always-above" : "always-below" };
  };
  const between = (lowDeg: number, highDeg: number): readonly (readonly [number, number] | undefined)[] => {
    const low = sinDeg(lowDeg);
    const high = sinDeg(highDeg);
    const atLow = crossingInstants(lowDeg);
    const atHigh = crossingInstants(highDeg);
    return atLow.map((_, piece) => {
      const atA = cutSines[piece] as number;
      const atB = cutSines[piece + 1] as number;
      if (Math.max(atA, atB) <= low || Math.min(atA, atB) >= high) return undefined;
      const rises = rising[piece] === true;
      const fromMs = (rises ? atLow : atHigh)[piece] ?? (cuts[piece] as number);
      const toMs = (rises ? atHigh : atLow)[piece] ?? (cuts[piece + 1] as number);
      return toMs > fromMs ? [fromMs, toMs] : undefined;
    });
  };
  return { track, startMs, endMs, cuts, rising, between, crossings };
}

/**
 * Where the cubic through four values an hour apart passes `wanted` between the middle two, of which the first is at `index`: how far along [hours], and
 * its slope there [per hour]. It comes within seconds of the curve.
 */
function cubicRoot(
  hourly: Float64Array,
  index: number,
  wanted: number,
): { readonly s: number; readonly slope: number } {
  const before = (hourly[index - 1] as number) - wanted;
  const left = (hourly[index] as number) - wanted;
  const right = (hourly[index + 1] as number) - wanted;
  const after = (hourly[index + 2] as number) - wanted;
  const square = (before - 2 * left + right) / 2;
  const cube = (after - 3 * right + 3 * left - before) / 6;
  const line = right - left - square - cube;
  let s = left / (left - right);
  let slope = right - left;
  for (let i = 0; i < 3; i++) {
    slope = line + s * (2 * square + s * 3 * cube);
    s -= (left + s * (line + s * (square + s * cube))) / slope;
  }
  return { s, slope };
}
