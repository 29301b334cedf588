import { type SkyCourse, skyCourse } from "../almanac/course";
import { dayEventsAlong, type SkyEventName } from "../almanac/day-events";
import { dipDeg } from "../almanac/dip";
import type { TwilightBounds } from "../almanac/golden-hour";
import { type TwilightKind, type TwilightWindow, twilightWindowsAlong } from "../almanac/twilight";
import { DomainError, requireInRange, within } from "../domain-error";
import type { HorizonProfile } from "../horizon/profile";
import { type LocalDay, localDay, zoneClock } from "../instants";
import { type Assumption, type Caution, caution } from "../notes";
import type { Observer } from "../sky/horizontal";
import { type Atmosphere, usualPressureHPa } from "../sky/refraction";
import { sunTrack } from "../sky/track";
import { type DirectLight, directLightAlong, type Facing } from "./direct-light";
import type { Horizon, Place, Subject } from "./light-place";
import { type DirectLightReport, directLightReport, type HorizonReport, horizonReport } from "./light-report";
import { subjectSite } from "./subject-light";

export type { Horizon, MissingTile, Place, Subject } from "./light-place";
export type { DirectLightReport, HorizonReport } from "./light-report";

export interface LightWindowsRequest {
  readonly place: Place;
  /** Local calendar day, YYYY-MM-DD, 1900 to 2100. */
  readonly date: string;
  /** IANA name. */
  readonly timeZone: string;
  readonly horizon: Horizon;
  readonly subject?: Subject | undefined;
  readonly atmosphere?: Atmosphere | undefined;
  readonly bounds?: TwilightBounds | undefined;
}

export interface LightWindow {
  readonly kind: TwilightKind;
  readonly part: "morning" | "evening";
  readonly start: string;
  readonly end: string;
  readonly minutes: number;
  /** Present where the start is but the midnight that the day begins at: this light began on the day before. */
  readonly sinceDayBefore?: true;
  /** Present where the end is but the midnight that the day ends at: this light goes on into the next day, as under a midnight sun. */
  readonly intoNextDay?: true;
}

export interface LightWindows {
  readonly date: string;
  readonly timeZone: string;
  readonly place: Required<Omit<Place, "name">> & { readonly name?: string };
  /** In order of time; what does not happen that day is not in it. */
  readonly events: readonly { readonly name: SkyEventName; readonly instant: string; readonly azimuthDeg: number }[];
  readonly polar: "none" | "day" | "night";
  readonly windows: readonly LightWindow[];
  /** At the camera. */
  readonly directLight: DirectLightReport;
  /** At the subject, where one is given. */
  readonly subjectLight?: DirectLightReport;
  readonly horizon: HorizonReport;
  readonly assumptions: readonly Assumption[];
  readonly cautions: readonly Caution[];
}

// Common practice: a standing person, the camera at the eye
const USUAL_EYE_HEIGHT_M = 1.6;

// The temperature that refraction formulas are given for (Meeus 1998, Astronomical Algorithms, ch. 16)
const USUAL_TEMPERATURE_C = 10;

/**
 * Find the light of one local day at a place: the almanac's events, golden and blue hour and the twilights, and when the sun shines directly
 * on the camera and on the subject, with what takes it away.
 *
 * The almanac's horizon is that of level ground or sea at the foot of the viewer: it dips with the eye height, and the elevation of the ground does not
 * lower it. What an eye on a summit or a cliff sees below it comes with the skyline.
 * @param request place [deg, m] and day; the skyline [deg]; subject with its own place, skyline and facing [deg]; air [hPa, °C]; bounds of golden and blue hour [deg]
 * @returns instants as RFC 3339 with the zone's offset, to the second; durations [min]
 * @throws DomainError for a day that does not exist, that the zone left out, or outside 1900 to 2100, an unknown zone, and values out of range
 * Source and accuracy: `dayEvents` and `directLight`; held in tests/core/light/windows.spec.ts.
 * @example findLightWindows({ place: { latitude: 56.6, longitude: -9.4 }, date: "2027-03-20", timeZone: "Etc/UTC", horizon: { kind: "flat" } }).polar // "none"
 */
export function findLightWindows(request: LightWindowsRequest): LightWindows {
  const { date, timeZone, horizon, atmosphere } = request;
  const place = wholePlace(request.place);
  const day = wholeDay(date, timeZone);
  const { startMs, endMs } = day;
  const subject = request.subject && subjectSite(request.subject, place, horizon);
  const almanacAltitudeDeg = -dipDeg(place.eyeHeightM);
  const sunOver = ({ latitude, longitude }: Observer): SkyCourse => {
    const observer: Observer = { latitude, longitude, elevationM: place.elevationM };
    const track = within("atmosphere", () => sunTrack(startMs, endMs, observer, atmosphere));
    return skyCourse(track, startMs, endMs);
  };
  const lightUnder = (path: string, skyline: Horizon, sun: SkyCourse, facing?: Facing) => {
    const profile = skyline.kind === "flat" ? levelProfile(almanacAltitudeDeg) : skyline.profile;
    const asked = { profile, almanacAltitudeDeg, ...(facing !== undefined && { facing }) };
    return within(path, () => directLightAlong(sun, asked));
  };
  const sun = sunOver(place);
  const isElsewhere = subject?.latitude !== place.latitude || subject.longitude !== place.longitude;
  const { events, polar } = dayEventsAlong(sun, place, place.eyeHeightM);
  const windows = within("bounds", () => twilightWindowsAlong(sun, request.bounds ?? {}, place.eyeHeightM));
  const atCamera = lightUnder("horizon", horizon, sun);
  const atSubject =
    subject && lightUnder("subject.horizon", subject.horizon, isElsewhere ? sunOver(subject) : sun, subject.facing);

  const write = secondWriter(day);
  const lastSecondMs = (Math.ceil(endMs / 1000) - 1) * 1000;
  return {
    date,
    timeZone,
    place,
    // an event in the last half second is not rounded into the next day
    events: events.map(({ name, instantMs, azimuthDeg }) => ({
      name,
      instant: write(Math.min(instantMs, lastSecondMs)),
      azimuthDeg,
    })),
    polar,
    windows: windows.map((window) => windowReport(window, day, write)),
    directLight: directLightReport(atCamera, write),
    ...(atSubject === undefined ? {} : { subjectLight: directLightReport(atSubject, write) }),
    horizon: horizonReport(horizon),
    assumptions: [...assumptionsOf(request), ...(subject?.assumptions ?? [])],
    cautions: cautionsOf(polar, [atCamera, atSubject]),
  };
}

function windowReport(
  { kind, part, startMs, endMs }: TwilightWindow,
  day: LocalDay,
  write: (instantMs: number) => string,
): LightWindow {
  const window = { kind, part, start: write(startMs), end: write(endMs), minutes: (endMs - startMs) / 60_000 };
  const sinceDayBefore = startMs <= day.startMs;
  const intoNextDay = endMs >= day.endMs;
  if (!(sinceDayBefore || intoNextDay)) return window;
  return Object.assign(window, sinceDayBefore && { sinceDayBefore }, intoNextDay && { intoNextDay });
}

function wholePlace({ name, latitude, longitude, elevationM = 0, eyeHeightM = USUAL_EYE_HEIGHT_M }: Place) {
  requireInRange("place.latitude", latitude, -90, 90, "deg");
  requireInRange("place.longitude", longitude, -180, 180, "deg");
  requireInRange("place.elevationM", elevationM, -500, 9000, "m");
  requireInRange("place.eyeHeightM", eyeHeightM, 0, 1000, "m");
  const whole = { latitude, longitude, elevationM, eyeHeightM };
  return name === undefined ? whole : { name, ...whole };
}

function wholeDay(date: string, timeZone: string): LocalDay {
  const day = localDay(date, timeZone);
  if (day.endMs > day.startMs) return day;
  throw new DomainError({
    code: "impossible",
    param: "date",
    given: date,
    allowed: `a day that ${timeZone} had: it left this one out when it moved across the date line`,
  });
}

/** Level ground or sea all round at an apparent altitude [deg]. */
function levelProfile(altitudeDeg: number): HorizonProfile {
  return { azimuthsDeg: [0, 180], altitudesDeg: [altitudeDeg, altitudeDeg] };
}

/** Writes instants to the second. */
function secondWriter({ timeZone }: LocalDay): (instantMs: number) => string {
  const clock = zoneClock(timeZone);
  return (instantMs) => clock.format(Math.round(instantMs / 1000) * 1000);
}

function assumptionsOf({ place, horizon, atmosphere }: LightWindowsRequest): Assumption[] {
  const assumptions: Assumption[] = [];
  if (place.eyeHeightM === undefined) {
    const why = "a standing person with the camera at the eye";
    assumptions.push({ field: "eyeHeightM", value: USUAL_EYE_HEIGHT_M, why });
  }
  if (horizon.kind === "flat") {
    const why = "no terrain is reckoned with: level ground or sea all round, which dips with the eye height alone";
    assumptions.push({ field: "horizon", value: "flat", why });
  }
  const { pressureHPa, temperatureC } = atmosphere ?? {};
  const air = `${Math.round(pressureHPa ?? usualPressureHPa(place.elevationM ?? 0))} hPa, ${temperatureC ?? USUAL_TEMPERATURE_C} °C`;
  const scatter = "near the horizon real refraction differs by 0.02 to 0.05°, 6 to 15 s at middle latitudes";
  const isGiven = pressureHPa !== undefined && temperatureC !== undefined;
  assumptions.push({ field: "refraction", value: air, why: isGiven ? scatter : `usual air; ${scatter}` });
  assumptions.push({
    field: "cloudLit",
    value: "decks at 1, 4 and 9 km overhead",
    why: "guidance: terrain or farther cloud in the sun's way ends the light on cloud sooner",
  });
  return assumptions;
}

function cautionsOf(polar: LightWindows["polar"], lights: readonly (DirectLight | undefined)[]): Caution[] {
  const sunIsSeen = polar !== "night" || lights.some((light) => light !== undefined && light.intervals.length > 0);
  return [...(sunIsSeen ? [caution("sun-through-optics")] : []), ...(polar === "day" ? [] : [caution("dark-paths")])];
}
