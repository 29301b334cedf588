import type { Observer } from "../sky/horizontal";
import { moonTrack, type SkyTrack, sunTrack } from "../sky/track";
import { type SkyCourse, skyCourse } from "./course";
import { upperTransits } from "./culminations";
import { moonriseAndMoonset } from "./moonrise";
import { type AltitudeCrossings, sunriseAltitudeDeg } from "./rise-set";
import { ASTRONOMICAL_TWILIGHT_DEG, CIVIL_TWILIGHT_DEG, NAUTICAL_TWILIGHT_DEG } from "./twilight";

export type SkyEventName =
  | "astronomical-dawn"
  | "nautical-dawn"
  | "civil-dawn"
  | "sunrise"
  | "solar-noon"
  | "sunset"
  | "civil-dusk"
  | "nautical-dusk"
  | "astronomical-dusk"
  | "moonrise"
  | "moonset";

export interface SkyEvent {
  readonly name: SkyEventName;
  readonly instantMs: number;
  /** Where the body stands then [deg]. */
  readonly azimuthDeg: number;
}

export interface DayEvents {
  /** In order of time; what does not happen that day is not in it. */
  readonly events: readonly SkyEvent[];
  /** Whether the sun's upper limb stays above or below the almanac's horizon all day. */
  readonly polar: "none" | "day" | "night";
}

const TWILIGHTS = [
  [CIVIL_TWILIGHT_DEG, "civil-dawn", "civil-dusk"],
  [NAUTICAL_TWILIGHT_DEG, "nautical-dawn", "nautical-dusk"],
  [ASTRONOMICAL_TWILIGHT_DEG, "astronomical-dawn", "astronomical-dusk"],
] as const;

/**
 * Compute what the almanac says of a span, usually a local day: dawns and dusks, rise and set of sun and moon, solar noon.
 * Rise and set are of the upper limb on a sea horizon: refraction 34′, the sun's semidiameter 16′, the moon's own, dip by eye height.
 * Twilight bounds are true altitudes of the sun's centre. On some days a thing happens twice or not at all; the list shows it.
 * @param startMs first instant [Unix ms]
 * @param endMs end of the span [Unix ms], not in it
 * @param heightAboveSeaM height of the eye above the sea [m], -500 to 10,000, for the dip
 * @returns the events of [startMs, endMs) in order, and whether the sun stays up or down
 * @throws DomainError for an instant, an observer or a height out of range
 * Source: Nautical Almanac Office, "Rise, Set, and Twilight Definitions". Accuracy: 0.5 s for the sun and 2 s for the moon of an independent
 * ephemeris up to 65° of latitude, no event missing or invented on grazing days up to 80°; held in tests/accuracy. Real air strays by half
 * a minute and more.
 * @example dayEvents(Date.UTC(2027, 2, 20), Date.UTC(2027, 2, 21), { latitude: 56.6, longitude: -9.4 }).events.map(({ name }) => name)
 */
export function dayEvents(startMs: number, endMs: number, observer: Observer, heightAboveSeaM = 0): DayEvents {
  return dayEventsAlong(skyCourse(sunTrack(startMs, endMs, observer), startMs, endMs), observer, heightAboveSeaM);
}

/** As {@link dayEvents}, where the sun's course for the observer is at hand. */
export function dayEventsAlong(sunCourse: SkyCourse, observer: Observer, heightAboveSeaM: number): DayEvents {
  const { track: sun, startMs, endMs } = sunCourse;
  const moon = moonTrack(startMs, endMs, observer);
  const events: SkyEvent[] = [];
  const add = (found: AltitudeCrossings, rising: SkyEventName, falling: SkyEventName, track: SkyTrack): void => {
    if (found.kind !== "crosses") return;
    for (const { instantMs, direction } of found.crossings) {
      if (instantMs >= endMs) continue;
      const name = direction === "rising" ? rising : falling;
      events.push({ name, instantMs, azimuthDeg: track(instantMs).azimuthDeg });
    }
  };

  const rise = sunCourse.crossings(sunriseAltitudeDeg(heightAboveSeaM));
  add(rise, "sunrise", "sunset", sun);
  for (const [altitudeDeg, dawn, dusk] of TWILIGHTS) add(sunCourse.crossings(altitudeDeg), dawn, dusk, sun);
  add(moonriseAndMoonset(moon, startMs, endMs, heightAboveSeaM), "moonrise", "moonset", moon);
  for (const instantMs of upperTransits(sun, startMs, endMs)) {
    events.push({ name: "solar-noon", instantMs, azimuthDeg: sun(instantMs).azimuthDeg });
  }
  events.sort((a, b) => a.instantMs - b.instantMs);
  // a day that a zone left out is no polar day
  const polar = rise.kind === "crosses" || endMs === startMs ? "none" : rise.kind === "always-above" ? "day" : "night";
  return { events, polar };
}
