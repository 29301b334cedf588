import { CLOUD_DECK_HEIGHTS_M, cloudLitDownToDeg } from "../sky/cloud-lit";
import type { Observer } from "../sky/horizontal";
import { sunTrack } from "../sky/track";
import { type SkyCourse, skyCourse } from "./course";
import { blueHourBounds, goldenHourBounds, type TwilightBounds } from "./golden-hour";
import { sunriseAltitudeDeg } from "./rise-set";

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

// Nautical Almanac Office, "Rise, Set, and Twilight Definitions": true altitude of the sun's centre
export const CIVIL_TWILIGHT_DEG = -6;
export const NAUTICAL_TWILIGHT_DEG = -12;
export const ASTRONOMICAL_TWILIGHT_DEG = -18;

// How low the sun still strikes cloud of each deck overhead
const CLOUD_LIT_DEG = /* @__PURE__ */ (
  [
    ["cloud-lit-low", CLOUD_DECK_HEIGHTS_M.low],
    ["cloud-lit-middle", CLOUD_DECK_HEIGHTS_M.middle],
    ["cloud-lit-high", CLOUD_DECK_HEIGHTS_M.high],
  ] as const
).map(([kind, heightM]) => [kind, cloudLitDownToDeg(heightM)] as const);

/**
 * Find the stretches of a span in which the sun stands between two altitudes: golden and blue hour, and the three twilights, each from its
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
 * Accuracy: as `dayEvents`; held in tests/core/almanac/twilight.spec.ts.
 */
export function twilightWindows(
  startMs: number,
  endMs: number,
  observer: Observer,
  bounds: TwilightBounds = {},
  heightAboveSeaM = 0,
): TwilightWindow[] {
  return twilightWindowsAlong(skyCourse(sunTrack(startMs, endMs, observer), startMs, endMs), bounds, heightAboveSeaM);
}

/** As {@link twilightWindows}, where the sun's course is at hand. */
export function twilightWindowsAlong(
  sunCourse: SkyCourse,
  bounds: TwilightBounds,
  heightAboveSeaM: number,
): TwilightWindow[] {
  const sunriseDeg = sunriseAltitudeDeg(heightAboveSeaM);
  const windows: TwilightWindow[] = [];
  const add = (kind: TwilightKind, lowDeg: number, highDeg: number): void =>
    addWindows(windows, sunCourse, kind, lowDeg, highDeg);
  add("golden-hour", ...goldenHourBounds(bounds));
  add("blue-hour", ...blueHourBounds(bounds));
  add("civil-twilight", CIVIL_TWILIGHT_DEG, sunriseDeg);
  add("nautical-twilight", NAUTICAL_TWILIGHT_DEG, CIVIL_TWILIGHT_DEG);
  add("astronomical-twilight", ASTRONOMICAL_TWILIGHT_DEG, NAUTICAL_TWILIGHT_DEG);
  for (const [kind, lowDeg] of CLOUD_LIT_DEG) add(kind, lowDeg, sunriseDeg);
  return windows.sort((a, b) => a.startMs - b.startMs || a.endMs - b.endMs);
}

/** Adds the windows of one kind: none or one on each piece of the sun's way, where it only rises (a morning) or only falls (an evening). */
function addWindows(
  windows: TwilightWindow[],
  { between, rising }: SkyCourse,
  kind: TwilightKind,
  lowDeg: number,
  highDeg: number,
): void {
  const stretches = between(lowDeg, highDeg);
  for (let piece = 0; piece < stretches.length; piece++) {
    const stretch = stretches[piece];
    if (stretch === undefined) continue;
    const part = rising[piece] === true ? "morning" : "evening";
    windows.push({ kind, part, startMs: stretch[0], endMs: stretch[1] });
  }
}
