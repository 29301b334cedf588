import { findCrossings, findPeak } from "../roots";
import type { SkyTrack } from "./track";

export interface Extreme {
  readonly instantMs: number;
  readonly kind: "highest" | "lowest";
}

const STEP_MS = 20 * 60_000;

/** Every instant in a span at which a body's true altitude stops rising or falling, in order. */
export function altitudeExtremes(track: SkyTrack, startMs: number, endMs: number): Extreme[] {
  const altitude = (ms: number): number => track(ms).trueAltitudeDeg;
  const count = Math.max(2, Math.ceil((endMs - startMs) / STEP_MS));
  const width = (endMs - startMs) / count;
  const extremes: Extreme[] = [];
  let before = altitude(startMs);
  let here = altitude(startMs + width);
  for (let i = 1; i < count; i++) {
    const after = altitude(startMs + (i + 1) * width);
    const a = startMs + (i - 1) * width;
    const b = startMs + (i + 1) * width;
    if (here >= before && here > after) extremes.push({ instantMs: findPeak(altitude, a, b, 500), kind: "highest" });
    else if (here <= before && here < after) {
      extremes.push({ instantMs: findPeak((ms) => -altitude(ms), a, b, 500), kind: "lowest" });
    }
    before = here;
    here = after;
  }
  return extremes;
}

/**
 * When a body crosses the meridian above the pole (upper transit) in a span [Unix ms]. For the sun that is true solar noon.
 * Found where the azimuth passes through the meridian, since the highest altitude is up to half a minute away at high latitudes.
 */
export function upperTransits(track: SkyTrack, startMs: number, endMs: number): number[] {
  return transits(track, startMs, endMs, "highest");
}

/** When a body crosses the meridian below the pole (lower transit) in a span [Unix ms]. For the sun that is solar midnight. */
export function lowerTransits(track: SkyTrack, startMs: number, endMs: number): number[] {
  return transits(track, startMs, endMs, "lowest");
}

function transits(track: SkyTrack, startMs: number, endMs: number, kind: Extreme["kind"]): number[] {
  const east = (ms: number): number => Math.sin((track(ms).azimuthDeg * Math.PI) / 180);
  const margin = 2 * STEP_MS;
  const extremes = altitudeExtremes(track, startMs - margin, endMs + margin).filter((extreme) => extreme.kind === kind);
  return extremes.flatMap(({ instantMs }) => {
    const near = findCrossings(east, instantMs - STEP_MS, instantMs + STEP_MS, STEP_MS / 8, 1).map(({ x }) => x);
    near.sort((a, b) => Math.abs(a - instantMs) - Math.abs(b - instantMs));
    const transit = near[0] ?? instantMs;
    return transit >= startMs && transit < endMs ? [transit] : [];
  });
}
