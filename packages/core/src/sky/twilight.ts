import { altitudeExtremes } from "./culminations";
import { ASTRONOMICAL_TWILIGHT_DEG, CIVIL_TWILIGHT_DEG, NAUTICAL_TWILIGHT_DEG } from "./day-events";
import type { Observer } from "./horizontal";
import { crossingsBetween, sunriseAltitudeDeg } from "./rise-set";
import { type SkyTrack, sunTrack } from "./track";

export type TwilightKind =
  | "golden-hour"
  | "blue-hour"
  | "civil-twilight"
  | "nautical-twilight"
  | "astronomical-twilight";

/** A stretch in which the sun stands between two altitudes. */
export interface TwilightWindow {
  readonly kind: TwilightKind;
  /** Morning before the sun's highest point, evening after it. */
  readonly part: "morning" | "evening";
  readonly startMs: number;
  readonly endMs: number;
}

/** True altitudes of the sun's centre between which the light has a name [deg]. */
export interface TwilightBounds {
  readonly goldenHourDeg?: readonly [number, number];
  readonly blueHourDeg?: readonly [number, number];
}

// Common practice, no source: golden hour -4 to +6, blue hour -6 to -4
export const GOLDEN_HOUR_DEG = [-4, 6] as const;
export const BLUE_HOUR_DEG = [-6, -4] as const;

/**
 * The stretches of a span in which the sun stands between two altitudes: golden and blue hour, and the three twilights, each from its
 * own bound up to that of the next (civil twilight from -6° to sunrise or sunset).
 * Where the sun turns inside the bounds the stretch is cut at its lowest or highest point into an evening and a morning.
 * Stretches are cut at the ends of the span, so that each belongs to the day asked for.
 * @param startMs first instant [Unix ms]
 * @param endMs end of the span [Unix ms]
 * @param bounds golden and blue hour [deg], each lower bound first
 * @throws DomainError for an observer out of range
 */
export function twilightWindows(
  startMs: number,
  endMs: number,
  observer: Observer,
  bounds: TwilightBounds = {},
  heightAboveSeaM = 0,
): TwilightWindow[] {
  const sun = sunTrack(startMs, endMs, observer);
  const cuts = [startMs, ...altitudeExtremes(sun, startMs, endMs).map(({ instantMs }) => instantMs), endMs];
  const kinds: readonly (readonly [TwilightKind, readonly [number, number]])[] = [
    ["golden-hour", bounds.goldenHourDeg ?? GOLDEN_HOUR_DEG],
    ["blue-hour", bounds.blueHourDeg ?? BLUE_HOUR_DEG],
    ["civil-twilight", [CIVIL_TWILIGHT_DEG, sunriseAltitudeDeg(heightAboveSeaM)]],
    ["nautical-twilight", [NAUTICAL_TWILIGHT_DEG, CIVIL_TWILIGHT_DEG]],
    ["astronomical-twilight", [ASTRONOMICAL_TWILIGHT_DEG, NAUTICAL_TWILIGHT_DEG]],
  ];
  const windows = kinds.flatMap(([kind, [lowDeg, highDeg]]) => windowsBetween(kind, lowDeg, highDeg, sun, cuts));
  return windows.sort((a, b) => a.startMs - b.startMs || a.endMs - b.endMs);
}

/** On each piece between two cuts the sun only rises (a morning) or only falls (an evening). */
function windowsBetween(
  kind: TwilightKind,
  lowDeg: number,
  highDeg: number,
  sun: SkyTrack,
  cuts: readonly number[],
): TwilightWindow[] {
  const windows: TwilightWindow[] = [];
  const passing = (altitudeDeg: number, a: number, b: number): number | undefined => {
    const found = crossingsBetween((ms) => sun(ms).trueAltitudeDeg - altitudeDeg, [a, b]);
    return found.kind === "crosses" ? found.crossings[0]?.instantMs : undefined;
  };
  for (let i = 1; i < cuts.length; i++) {
    const a = cuts[i - 1] as number;
    const b = cuts[i] as number;
    const atA = sun(a).trueAltitudeDeg;
    const atB = sun(b).trueAltitudeDeg;
    const rising = atB > atA;
    if (Math.max(atA, atB) <= lowDeg || Math.min(atA, atB) >= highDeg) continue;
    const startMs = passing(rising ? lowDeg : highDeg, a, b) ?? a;
    const endMs = passing(rising ? highDeg : lowDeg, a, b) ?? b;
    if (endMs > startMs) windows.push({ kind, part: rising ? "morning" : "evening", startMs, endMs });
  }
  return windows;
}
