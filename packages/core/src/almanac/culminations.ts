import { sinDeg } from "../angles";
import { type Curve, findPeak, findRoot } from "../roots";
import type { SkyTrack } from "../sky/track";

export interface Extreme {
  readonly instantMs: number;
  readonly kind: "highest" | "lowest";
}

const HOUR_MS = 3_600_000;
const EXTREME_TOLERANCE_MS = 500;
// Between these a body's altitude bends as a parabola does
const NEAR_MS = 120_000;
const FAR_MS = 600_000;
const TRANSIT_TOLERANCE_MS = 5;

/**
 * Find every instant in a span at which a body's true altitude stops rising or falling, in order: twice a day nearly everywhere, never near the poles,
 * where the sun's altitude follows the season.
 * @param track where the body stands, known for an hour beyond both ends
 * @param startMs first instant [Unix ms]
 * @param endMs end of the span [Unix ms], not in it
 */
export function altitudeExtremes(track: SkyTrack, startMs: number, endMs: number): Extreme[] {
  const sine = altitudeSineOf(track);
  return extremesAmong(hourlyValues(sine, startMs, endMs), sine, startMs, endMs);
}

/** Sine of the true altitude along a track. It turns where the altitude does. */
export function altitudeSineOf(track: SkyTrack): Curve {
  return track.altitudeSine ?? ((ms) => sinDeg(track(ms).trueAltitudeDeg));
}

/** The instant of one of {@link hourlyValues} [Unix ms]. */
export function hourMs(startMs: number, index: number): number {
  return startMs + (index - 1) * HOUR_MS;
}

/** A curve each hour, from an hour before a span to an hour or more beyond it, so that a turn in its first or last hour has neighbours on either side. */
export function hourlyValues(curve: Curve, startMs: number, endMs: number): Float64Array {
  const values = new Float64Array(Math.max(1, Math.ceil((endMs - startMs) / HOUR_MS)) + 3);
  for (let i = 0; i < values.length; i++) values[i] = curve(hourMs(startMs, i));
  return values;
}

/** Where a curve that was taken each hour turns. */
export function extremesAmong(hourly: Float64Array, curve: Curve, startMs: number, endMs: number): Extreme[] {
  const upsideDown = (ms: number): number => -curve(ms);
  const extremes: Extreme[] = [];
  for (let i = 1; i + 1 < hourly.length; i++) {
    const before = hourly[i - 1] as number;
    const here = hourly[i] as number;
    const after = hourly[i + 1] as number;
    const highest = here >= before && here > after;
    const lowest = here <= before && here < after;
    if (!(highest || lowest)) continue;
    const atMs = hourMs(startMs, i);
    // the top of the parabola through the hours is within minutes of it, that of one through minutes about there within milliseconds
    const aboutMs = atMs + HOUR_MS * vertex(before, here, after);
    const nearMs = aboutMs + NEAR_MS * vertex(curve(aboutMs - NEAR_MS), curve(aboutMs), curve(aboutMs + NEAR_MS));
    const instantMs =
      Math.abs(nearMs - aboutMs) < FAR_MS
        ? nearMs
        : findPeak(highest ? curve : upsideDown, atMs - HOUR_MS, atMs + HOUR_MS, EXTREME_TOLERANCE_MS);
    if (instantMs > startMs && instantMs < endMs) extremes.push({ instantMs, kind: highest ? "highest" : "lowest" });
  }
  return extremes;
}

/** Where the parabola through three values at -1, 0 and 1 turns. */
function vertex(before: number, here: number, after: number): number {
  return (before - after) / (2 * (before - 2 * here + after));
}

/**
 * Find when a body crosses the meridian above the pole (upper transit) in a span [Unix ms], its end not in it. For the sun that is true solar noon.
 * It is where the body passes from east to west, which it does at every latitude; its highest point is up to half a minute away at 70° and
 * hours near the poles.
 */
export function upperTransits(track: SkyTrack, startMs: number, endMs: number): number[] {
  return transits(track, startMs, endMs, -1);
}

/** Find when a body crosses the meridian below the pole (lower transit) in a span [Unix ms]. For the sun that is solar midnight. */
export function lowerTransits(track: SkyTrack, startMs: number, endMs: number): number[] {
  return transits(track, startMs, endMs, 1);
}

function transits(track: SkyTrack, startMs: number, endMs: number, direction: 1 | -1): number[] {
  // the part of the body's direction that points east, a sine of the hour angle but for its sign
  const east = (ms: number): number => {
    const { azimuthDeg, trueAltitudeDeg } = track(ms);
    return sinDeg(azimuthDeg) * sinDeg(90 - Math.abs(trueAltitudeDeg));
  };
  const count = Math.max(1, Math.ceil((endMs - startMs) / (6 * HOUR_MS)));
  const width = (endMs - startMs) / count;
  const found: number[] = [];
  let before = east(startMs);
  if (before === 0 && direction * east(startMs + width) > 0) found.push(startMs);
  for (let i = 1; i <= count; i++) {
    const b = i === count ? endMs : startMs + i * width;
    const after = east(b);
    if (direction * before < 0 && direction * after >= 0) {
      const instantMs = findRoot(east, b - width, b, TRANSIT_TOLERANCE_MS);
      if (instantMs < endMs) found.push(instantMs);
    }
    before = after;
  }
  return found;
}
