import type { HorizonProfile } from "../horizon/profile";
import { localDay, type ZoneClock, zoneClock } from "../instants";
import { type Assumption, type Caution, caution } from "../notes";
import { dayEvents, type SkyEventName } from "../sky/day-events";
import type { Observer } from "../sky/horizontal";
import type { Atmosphere } from "../sky/refraction";
import { dipDeg } from "../sky/rise-set";
import { sunTrack } from "../sky/track";
import { type TwilightBounds, type TwilightKind, twilightWindows } from "../sky/twilight";
import { type DirectLight, type DirectLightCause, directLight, type Facing } from "./direct-light";

export interface Place {
  readonly name?: string | undefined;
  /** WGS 84 [deg]. */
  readonly latitude: number;
  readonly longitude: number;
  /** Ground above mean sea level [m]; default 0. */
  readonly elevationM?: number | undefined;
  /** Eye or lens above the ground [m]; default 1.6. */
  readonly eyeHeightM?: number | undefined;
}

/** A tile that the skyline needed and did not have. */
export interface MissingTile {
  readonly name: string;
  readonly reason: string;
  /** Azimuths [deg] that it leaves uncertain, as ranges from and to, clockwise. */
  readonly azimuthsDeg: readonly (readonly [number, number])[];
}

/** The skyline to reckon with, and where it comes from. */
export type Horizon =
  | {
      readonly kind: "flat";
      /** Tiles for want of which there is no skyline. */
      readonly missingTiles?: readonly MissingTile[] | undefined;
    }
  | {
      readonly kind: "profile" | "terrain";
      readonly profile: HorizonProfile;
      readonly source?: string | undefined;
      readonly missingTiles?: readonly MissingTile[] | undefined;
    };

/** What is photographed: it may stand elsewhere, under its own skyline, and look one way. */
export interface Subject {
  readonly latitude?: number | undefined;
  readonly longitude?: number | undefined;
  readonly facingAzimuthDeg?: number | undefined;
  readonly slopeDeg?: number | undefined;
  /** The subject's own skyline; default: the camera's. */
  readonly horizon?: Horizon | undefined;
}

export interface LightWindowsRequest {
  readonly place: Place;
  /** Local calendar day, YYYY-MM-DD, 1900 to 2100. */
  readonly date: string;
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
}

export interface DirectLightReport {
  readonly intervals: readonly {
    readonly start: string;
    readonly end: string;
    readonly startCause: DirectLightCause;
    readonly endCause: DirectLightCause;
    readonly startAzimuthDeg: number;
    readonly endAzimuthDeg: number;
    /** Within it, while the whole disc is seen; null where it never is. */
    readonly fullDisc: { readonly start: string; readonly end: string } | null;
  }[];
  readonly firstInstant: string | null;
  readonly lastInstant: string | null;
  readonly minutesLostToTerrain: number;
}

export interface HorizonReport {
  readonly kind: "flat" | "profile" | "terrain";
  readonly source?: string;
  readonly missingTiles?: readonly MissingTile[];
}

export interface LightWindows {
  readonly date: string;
  readonly timeZone: string;
  readonly place: Required<Omit<Place, "name">> & { readonly name?: string };
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

const DEFAULT_EYE_HEIGHT_M = 1.6;

/**
 * The light of one local day at a place: the almanac's events, golden and blue hour and the twilights, and when the sun shines directly
 * on the camera and on the subject, with what takes it away.
 * @param request place and day; the skyline [deg]; subject with its own place, skyline and facing [deg]; air [hPa, °C]
 * @returns instants as RFC 3339 with the zone's offset, to the second; durations [min]
 * @throws DomainError for a day that does not exist or lies outside 1900 to 2100, an unknown zone, and values out of range
 * Source and accuracy: {@link dayEvents} and {@link directLight}.
 * @example findLightWindows({ place: { latitude: 56.6, longitude: -9.4 }, date: "2027-03-20", timeZone: "Etc/UTC", horizon: { kind: "flat" } }).polar // "none"
 */
export function findLightWindows(request: LightWindowsRequest): LightWindows {
  const { place, date, timeZone, horizon, subject, atmosphere } = request;
  const day = localDay(date, timeZone);
  const clock = zoneClock(timeZone);
  const assumptions: Assumption[] = [];
  const elevationM = place.elevationM ?? 0;
  const eyeHeightM = place.eyeHeightM ?? assumeEyeHeight(assumptions);
  if (horizon.kind === "flat") {
    assumptions.push({ field: "horizon", value: "flat", why: "no terrain is reckoned with: a sea horizon all round" });
  }
  if (atmosphere === undefined) {
    const why =
      "standard air; near the horizon real refraction differs by 0.02 to 0.05°, 6 to 15 s at middle latitudes";
    assumptions.push({ field: "refraction", value: "1010 hPa, 10 °C", why });
  }
  const observer: Observer = { latitude: place.latitude, longitude: place.longitude, elevationM };
  const aboveSeaM = Math.max(0, elevationM) + eyeHeightM;
  const { events, polar } = dayEvents(day.startMs, day.endMs, observer, aboveSeaM);
  const windows = twilightWindows(day.startMs, day.endMs, observer, request.bounds, aboveSeaM);

  const lightAt = (who: Observer, skyline: Horizon, heightM: number, facing?: Facing): DirectLight => {
    const almanacAltitudeDeg = -dipDeg(heightM);
    const profile = skyline.kind === "flat" ? flatProfile(almanacAltitudeDeg) : skyline.profile;
    const track = sunTrack(day.startMs, day.endMs, who, atmosphere);
    const span = { track, startMs: day.startMs, endMs: day.endMs, profile, almanacAltitudeDeg };
    return directLight(facing === undefined ? span : { ...span, facing });
  };
  const subjectAt = (asked: Subject): DirectLight => {
    const who = {
      ...observer,
      latitude: asked.latitude ?? place.latitude,
      longitude: asked.longitude ?? place.longitude,
    };
    return lightAt(who, asked.horizon ?? horizon, aboveSeaM, facingOf(asked, assumptions));
  };

  return {
    date,
    timeZone,
    place: {
      ...(place.name === undefined ? {} : { name: place.name }),
      latitude: place.latitude,
      longitude: place.longitude,
      elevationM,
      eyeHeightM,
    },
    events: events.map(({ name, instantMs, azimuthDeg }) => ({
      name,
      instant: toSecond(clock, instantMs),
      azimuthDeg,
    })),
    polar,
    windows: windows.map(({ kind, part, startMs, endMs }) => ({
      kind,
      part,
      start: toSecond(clock, startMs),
      end: toSecond(clock, endMs),
      minutes: (endMs - startMs) / 60_000,
    })),
    directLight: report(lightAt(observer, horizon, aboveSeaM), clock),
    ...(subject === undefined ? {} : { subjectLight: report(subjectAt(subject), clock) }),
    horizon: horizonReport(horizon),
    assumptions,
    cautions: [caution("sun-through-optics"), caution("dark-paths")],
  };
}

/** A sea horizon all round at an apparent altitude [deg]. */
function flatProfile(altitudeDeg: number): HorizonProfile {
  return { azimuthsDeg: [0, 180], altitudesDeg: [altitudeDeg, altitudeDeg] };
}

function assumeEyeHeight(assumptions: Assumption[]): number {
  assumptions.push({
    field: "eyeHeightM",
    value: DEFAULT_EYE_HEIGHT_M,
    why: "a standing person with a camera at the eye",
  });
  return DEFAULT_EYE_HEIGHT_M;
}

/** A surface looks one way where its facing is given; a facing without a slope is an upright wall. */
function facingOf(subject: Subject, assumptions: Assumption[]): Facing | undefined {
  const { facingAzimuthDeg, slopeDeg } = subject;
  if (facingAzimuthDeg === undefined && slopeDeg === undefined) return undefined;
  if (slopeDeg === undefined) {
    assumptions.push({
      field: "subject.slopeDeg",
      value: 90,
      why: "a facing without a slope is taken for an upright face",
    });
  }
  if (facingAzimuthDeg === undefined && slopeDeg !== 0) {
    assumptions.push({ field: "subject.facingAzimuthDeg", value: 0, why: "no facing was given for a sloping subject" });
  }
  return { facingAzimuthDeg: facingAzimuthDeg ?? 0, slopeDeg: slopeDeg ?? 90 };
}

function report({ intervals, minutesLostToTerrain }: DirectLight, clock: ZoneClock): DirectLightReport {
  const instant = (ms: number): string => toSecond(clock, ms);
  const first = intervals[0];
  const last = intervals.at(-1);
  return {
    intervals: intervals.map((interval) => ({
      start: instant(interval.startMs),
      end: instant(interval.endMs),
      startCause: interval.startCause,
      endCause: interval.endCause,
      startAzimuthDeg: interval.startAzimuthDeg,
      endAzimuthDeg: interval.endAzimuthDeg,
      fullDisc: interval.fullDisc && {
        start: instant(interval.fullDisc.startMs),
        end: instant(interval.fullDisc.endMs),
      },
    })),
    firstInstant: first === undefined ? null : instant(first.startMs),
    lastInstant: last === undefined ? null : instant(last.endMs),
    minutesLostToTerrain,
  };
}

function horizonReport(horizon: Horizon): HorizonReport {
  const { kind, missingTiles } = horizon;
  const source = horizon.kind === "flat" ? undefined : horizon.source;
  return { kind, ...(source === undefined ? {} : { source }), ...(missingTiles === undefined ? {} : { missingTiles }) };
}

function toSecond(clock: ZoneClock, instantMs: number): string {
  return clock.format(Math.round(instantMs / 1000) * 1000);
}
