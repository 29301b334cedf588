import { DomainError, requireInRange } from "../domain-error";
import { findRoot } from "../roots";
import { CLOUD_DECK_HEIGHTS_M, cloudLitDownToDeg } from "./cloud-lit";
import { altitudeExtremes } from "./culminations";
import { ASTRONOMICAL_TWILIGHT_DEG, CIVIL_TWILIGHT_DEG, NAUTICAL_TWILIGHT_DEG } from "./day-events";
import type { Observer } from "./horizontal";
import { CROSSING_TOLERANCE_MS, sunriseAltitudeDeg } from "./rise-set";
import { type SkyTrack, sunTrack } from "./track";

export type TwilightKind =
  | "golden-hour"
  | "blue-hour"
  | "civil-twilight"
  | "nautical-twilight"
  | "astronomical-twilight"
  | "cloud-lit-low"
  | "cloud-lit-middle"
  | "cloud-lit-high";

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
 * The cloud-lit stretches reach from sunset down to where the sun no longer strikes cloud overhead at 1, 4 and 9 km: guidance, see
 * {@link cloudLitDownToDeg}.
 * All bounds are true (airless) altitudes of the sun's centre, those of the golden and the blue hour too, so that the blue hour begins and ends
 * with civil twilight to the second; at +6° the apparent altitude would differ by 0.14°, about a minute.
 * @param startMs first instant [Unix ms]
 * @param endMs end of the span [Unix ms]
 * @param bounds golden and blue hour [deg], each lower bound first, -90 to 90
 * @param heightAboveSeaM height of the eye above the sea [m], for the dip of the horizon at which civil twilight meets sunrise and sunset
 * @returns in order of their start
 * @throws DomainError for an instant, an observer, a height or bounds out of range
 * Source: Nautical Almanac Office, "Rise, Set, and Twilight Definitions"; golden and blue hour are common practice.
 * Accuracy: as `dayEvents`; held in tests/core/sky/twilight.spec.ts.
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
    ["golden-hour", requireBounds("goldenHourDeg", bounds.goldenHourDeg ?? GOLDEN_HOUR_DEG)],
    ["blue-hour", requireBounds("blueHourDeg", bounds.blueHourDeg ?? BLUE_HOUR_DEG)],
    ["civil-twilight", [CIVIL_TWILIGHT_DEG, sunriseAltitudeDeg(heightAboveSeaM)]],
    ["nautical-twilight", [NAUTICAL_TWILIGHT_DEG, CIVIL_TWILIGHT_DEG]],
    ["astronomical-twilight", [ASTRONOMICAL_TWILIGHT_DEG, NAUTICAL_TWILIGHT_DEG]],
    ["cloud-lit-low", [cloudLitDownToDeg(CLOUD_DECK_HEIGHTS_M.low), sunriseAltitudeDeg(heightAboveSeaM)]],
    ["cloud-lit-middle", [cloudLitDownToDeg(CLOUD_DECK_HEIGHTS_M.middle), sunriseAltitudeDeg(heightAboveSeaM)]],
    ["cloud-lit-high", [cloudLitDownToDeg(CLOUD_DECK_HEIGHTS_M.high), sunriseAltitudeDeg(heightAboveSeaM)]],
  ];
  const arcs = arcsBetween(sun, cuts);
  const windows = arcs.flatMap((arc) => kinds.flatMap(([kind, [lowDeg, highDeg]]) => arc(kind, lowDeg, highDeg)));
  return windows.sort((a, b) => a.startMs - b.startMs || a.endMs - b.endMs);
}

function requireBounds(param: string, bounds: readonly [number, number]): readonly [number, number] {
  const [low, high] = bounds;
  requireInRange(`${param}.0`, low, -90, 90, "deg");
  requireInRange(`${param}.1`, high, -90, 90, "deg");
  if (low >= high) throw new DomainError({ param, given: bounds, allowed: "the lower bound first", unit: "deg" });
  return bounds;
}

/** The windows of one piece of the sun's way on which it only rises (a morning) or only falls (an evening): none or one of each kind. */
type Arc = (kind: TwilightKind, lowDeg: number, highDeg: number) => TwilightWindow[];

function arcsBetween(sun: SkyTrack, cuts: readonly number[]): Arc[] {
  const altitude = (ms: number): number => sun(ms).trueAltitudeDeg;
  const altitudes = cuts.map(altitude);
  return cuts.slice(1).map((b, i) => {
    const a = cuts[i] as number;
    const atA = altitudes[i] as number;
    const atB = altitudes[i + 1] as number;
    const rising = atB > atA;
    // neighbouring windows share a bound, which is sought once and is then the same to the last digit
    const found = new Map<number, number>();
    const passing = (altitudeDeg: number): number | undefined => {
      if (atA > altitudeDeg === atB > altitudeDeg) return undefined;
      const known = found.get(altitudeDeg);
      if (known !== undefined) return known;
      const above = (ms: number): number => altitude(ms) - altitudeDeg;
      const instantMs = findRoot(above, a, b, CROSSING_TOLERANCE_MS, atA - altitudeDeg, atB - altitudeDeg);
      found.set(altitudeDeg, instantMs);
      return instantMs;
    };
    return (kind, lowDeg, highDeg) => {
      if (Math.max(atA, atB) <= lowDeg || Math.min(atA, atB) >= highDeg) return [];
      const startMs = passing(rising ? lowDeg : highDeg) ?? a;
      const endMs = passing(rising ? highDeg : lowDeg) ?? b;
      return endMs > startMs ? [{ kind, part: rising ? "morning" : "evening", startMs, endMs }] : [];
    };
  });
}
