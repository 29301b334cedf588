import { altitudeSineOf } from "../almanac/culminations";
import { separationDeg, sinDeg, wrap180 } from "../angles";
import { DomainError, requireInRange } from "../domain-error";
import type { HorizonProfile } from "../horizon/profile";
import { addDays, localDay, zoneClock } from "../instants";
import { interpolateRoundCompass } from "../interpolation";
import { type Assumption, type Caution, caution } from "../notes";
import { findPeak, findRoot } from "../roots";
import type { Observer, SkyPosition } from "../sky/horizontal";
import { type MoonPhaseName, moonPhase, moonSemidiameterDeg } from "../sky/moon";
import { MOST_LIFT_DEG } from "../sky/refraction";
import { SUN_SEMIDIAMETER_DEG } from "../sky/sun";
import { moonTrack, type SkyTrack, sunTrack } from "../sky/track";
import { skylineRange } from "./skyline-range";

export type AlignedBody = "sun" | "moon";

/** Which part of the disc touches the skyline. */
export type TouchingLimb = "upper" | "centre" | "lower";

/** Where the body is wanted. */
export type AlignmentTarget =
  | {
      readonly kind: "direction";
      /** Degrees clockwise from true north. */
      readonly azimuthDeg: number;
      /** Apparent altitude of the disc's centre [deg]. */
      readonly altitudeDeg: number;
    }
  | {
      readonly kind: "skyline";
      readonly azimuthDeg: number;
      /** Default: the centre of the disc. */
      readonly limb?: TouchingLimb | undefined;
    };

export interface AlignmentRequest {
  readonly place: { readonly latitude: number; readonly longitude: number; readonly elevationM?: number | undefined };
  readonly timeZone: string;
  readonly body: AlignedBody;
  readonly target: AlignmentTarget;
  /** How far from the target still counts [deg]: all round for a direction, along the skyline for a skyline. 0.01 to 10; default 0.5. */
  readonly toleranceDeg?: number | undefined;
  /** First and last local day, YYYY-MM-DD, at most 20 years apart. */
  readonly from: string;
  readonly to: string;
  /** The skyline; needed for a target on it. */
  readonly profile?: HorizonProfile | undefined;
  /** Only while the sun stands between these true altitudes [deg]. */
  readonly sunAltitudeDeg?: readonly [number, number] | undefined;
  /** Only while this part of the moon is lit, least and most, 0 to 1. */
  readonly illuminatedFraction?: readonly [number, number] | undefined;
  /** Most hits in the answer, 1 to 5000; default 500. */
  readonly limit?: number | undefined;
}

export interface SkyAlignment {
  /** When it is nearest, or when the limb touches the skyline. */
  readonly instant: string;
  readonly date: string;
  readonly position: SkyPosition;
  /** How far from the target [deg]. */
  readonly separationDeg: number;
  /** For a skyline: whether the body comes up or goes down there. */
  readonly passage: "rising" | "setting" | null;
  readonly sunAltitudeDeg: number;
  readonly moon: { readonly illuminatedFraction: number; readonly phaseName: MoonPhaseName };
}

export interface Alignments {
  readonly alignments: readonly SkyAlignment[];
  /** Whether more were found than the limit lets through. */
  readonly truncated: boolean;
  readonly daysSearched: number;
  readonly assumptions: readonly Assumption[];
  readonly cautions: readonly Caution[];
}

const LONGEST_DAYS = 7306;
const HOUR_MS = 3_600_000;
const SAMPLE_MS = 0.5 * HOUR_MS;
/** The fastest that sun or moon can move across the sky [deg/h]: the earth's turn. */
const FASTEST_DEG_PER_HOUR = 15.1;
/** How far it moves from one sample to the next at the most [deg]. */
const FASTEST_DEG = (FASTEST_DEG_PER_HOUR * SAMPLE_MS) / HOUR_MS;
/** No part of a disc is seen further than this from the true altitude of its centre [deg]: the moon's reach is 0.28. */
const LIFTED_DEG = MOST_LIFT_DEG + 0.3;
const ROOT_TOLERANCE_MS = 50;

/**
 * Find when sun or moon stands where it is wanted: within a tolerance of a direction, or with a limb on the skyline at an azimuth, as in a notch.
 * @param request place, body, target [deg], tolerance [deg], days, and filters by the sun's altitude [deg] and the moon's lit part [1]
 * @returns hits in order of time, each with its position, how far off it is [deg], and the moon's phase
 * @throws DomainError for values out of range; `impossible` for a span of more than 20 years, or a skyline target without a skyline
 * Source: the tracks of sun and moon; nearest approach by golden section, passages by root finding. Accuracy: instants to 0.1 s on the
 * track; every hit is verified by recomputing the position in tests/core/light/alignments.spec.ts.
 */
export function findAlignments(request: AlignmentRequest): Alignments {
  const { place, timeZone, body, target, from, to, profile } = request;
  const toleranceDeg = requireInRange("toleranceDeg", request.toleranceDeg ?? 0.5, 0.01, 10, "deg");
  const limit = requireInRange("limit", request.limit ?? 500, 1, 5000);
  requireInRange("target.azimuthDeg", target.azimuthDeg, 0, 360, "deg");
  if (target.kind === "direction") requireInRange("target.altitudeDeg", target.altitudeDeg, -5, 90, "deg");
  else if (profile === undefined) {
    throw new DomainError({
      code: "impossible",
      param: "target.kind",
      given: "skyline",
      allowed: "direction, where no skyline is known",
    });
  }
  const { startMs } = localDay(from, timeZone, "from");
  const { endMs } = localDay(to, timeZone, "to");
  const days = Math.round((endMs - startMs) / (24 * HOUR_MS));
  if (!(days >= 1 && days <= LONGEST_DAYS)) {
    const allowed = `a day from ${from} to ${addDays(from, LONGEST_DAYS - 1).slice(0, 10)}: at most 20 years`;
    throw new DomainError({ code: "impossible", param: "to", given: to, allowed });
  }

  const observer: Observer = {
    latitude: place.latitude,
    longitude: place.longitude,
    elevationM: place.elevationM ?? 0,
  };
  const track = (body === "sun" ? sunTrack : moonTrack)(startMs, endMs, observer);
  const sun = body === "sun" ? track : sunTrack(startMs, endMs, observer);
  const clock = zoneClock(timeZone);
  const alignments: SkyAlignment[] = [];
  let truncated = false;
  const take: TakeHit = ({ ms, separation, passage }) => {
    const sunAltitudeDeg = sun(ms).trueAltitudeDeg;
    if (!within(sunAltitudeDeg, request.sunAltitudeDeg)) return true;
    const { illuminatedFraction, phaseName } = moonPhase(ms);
    if (!within(illuminatedFraction, request.illuminatedFraction)) return true;
    if (alignments.length >= limit) {
      truncated = true;
      return false;
    }
    const { azimuthDeg, altitudeDeg, trueAltitudeDeg } = track(ms);
    alignments.push({
      instant: clock.format(Math.round(ms / 1000) * 1000),
      date: clock.dateAt(ms),
      position: { azimuthDeg, altitudeDeg, trueAltitudeDeg },
      separationDeg: separation,
      passage,
      sunAltitudeDeg,
      moon: { illuminatedFraction, phaseName },
    });
    return true;
  };
  const span = { startMs, endMs };
  if (target.kind === "direction") findApproaches(track, target, toleranceDeg, span, take);
  else findPassages(track, body, target, profile as HorizonProfile, toleranceDeg, span, take);
  return {
    alignments,
    truncated,
    daysSearched: days,
    assumptions: [
      {
        field: "refraction",
        value: "1010 hPa, 10 °C",
        why: "standard air; near the horizon it differs by 0.02 to 0.05°",
      },
    ],
    cautions: body === "sun" ? [caution("sun-through-optics")] : [caution("dark-paths")],
  };
}

interface Hit {
  readonly ms: number;
  readonly separation: number;
  readonly passage: "rising" | "setting" | null;
}

/** Takes a hit; false where the search can end. */
type TakeHit = (hit: Hit) => boolean;

interface Span {
  readonly startMs: number;
  readonly endMs: number;
}

function within(value: number, range: readonly [number, number] | undefined): boolean {
  return range === undefined || (value >= range[0] && value <= range[1]);
}

/** Whether a body could be seen between two altitudes [deg], from its true altitude alone: for a third of what its position costs. */
function couldStandBetween(track: SkyTrack, lowestDeg: number, highestDeg: number): (ms: number) => boolean {
  const sine = altitudeSineOf(track);
  const low = lowestDeg - LIFTED_DEG;
  const high = highestDeg + LIFTED_DEG;
  const lowSine = low > -90 ? sinDeg(low) : Number.NEGATIVE_INFINITY;
  const highSine = high < 90 ? sinDeg(high) : Number.POSITIVE_INFINITY;
  return (ms) => {
    const here = sine(ms);
    return here >= lowSine && here <= highSine;
  };
}

/** Finds each nearest approach to a direction that comes within the tolerance. */
function findApproaches(
  track: SkyTrack,
  target: { readonly azimuthDeg: number; readonly altitudeDeg: number },
  toleranceDeg: number,
  { startMs, endMs }: Span,
  take: TakeHit,
): void {
  const away = (ms: number): number => {
    const { azimuthDeg, altitudeDeg } = track(ms);
    return separationDeg(azimuthDeg, altitudeDeg, target.azimuthDeg, target.altitudeDeg);
  };
  // only a sample this near can hide an approach within the tolerance between itself and its neighbours
  const reach = toleranceDeg + FASTEST_DEG;
  const isNear = couldStandBetween(track, target.altitudeDeg - reach, target.altitudeDeg + reach);
  const awayIfNear = (ms: number): number => (isNear(ms) ? away(ms) : Number.POSITIVE_INFINITY);
  let before = Number.POSITIVE_INFINITY;
  let here = awayIfNear(startMs);
  for (let ms = startMs; ms < endMs; ms += SAMPLE_MS) {
    const after = awayIfNear(ms + SAMPLE_MS);
    if (here <= before && here < after && here < reach) {
      const nearest = findPeak((at) => -away(at), Math.max(startMs, ms - SAMPLE_MS), ms + SAMPLE_MS, ROOT_TOLERANCE_MS);
      const separation = away(nearest);
      const counts = separation <= toleranceDeg && nearest < endMs;
      if (counts && !take({ ms: nearest, separation, passage: null })) return;
    }
    before = here;
    here = after;
  }
}

/** Finds each time that a limb crosses the skyline within the tolerance of an azimuth. */
function findPassages(
  track: SkyTrack,
  body: AlignedBody,
  target: { readonly azimuthDeg: number; readonly limb?: TouchingLimb | undefined },
  profile: HorizonProfile,
  toleranceDeg: number,
  { startMs, endMs }: Span,
  take: TakeHit,
): void {
  const sign = target.limb === "upper" ? 1 : target.limb === "lower" ? -1 : 0;
  const semidiameter = (position: SkyPosition & { readonly distanceKm?: number }): number =>
    body === "sun" ? SUN_SEMIDIAMETER_DEG : moonSemidiameterDeg(position.distanceKm as number);
  const clearance = (ms: number): number => {
    const position = track(ms);
    const skyline = interpolateRoundCompass(profile.azimuthsDeg, profile.altitudesDeg, position.azimuthDeg);
    return position.altitudeDeg + sign * semidiameter(position) - skyline;
  };
  const offset = (ms: number): number => wrap180(track(ms).azimuthDeg - target.azimuthDeg);
  const [lowestDeg, highestDeg] = skylineRange(profile);
  const couldCross = couldStandBetween(track, lowestDeg - FASTEST_DEG, highestDeg + FASTEST_DEG);
  // the stretch in which the azimuth lies within the tolerance, walked finely enough for the profile's own steps
  let before: number | undefined;
  for (let ms = startMs; ms < endMs; ms += SAMPLE_MS) {
    if (!couldCross(ms)) {
      before = undefined;
      continue;
    }
    before ??= offset(ms);
    const after = offset(ms + SAMPLE_MS);
    const reaches =
      Math.min(Math.abs(before), Math.abs(after)) <= toleranceDeg ||
      (before > 0 !== after > 0 && Math.abs(after - before) < 180);
    if (reaches && !passagesBetween(ms, ms + SAMPLE_MS)) return;
    before = after;
  }

  /** Returns false where the search can end. */
  function passagesBetween(a: number, b: number): boolean {
    const count = 60;
    let atA = clearance(a);
    for (let i = 1; i <= count; i++) {
      const left = a + ((b - a) * (i - 1)) / count;
      const right = a + ((b - a) * i) / count;
      const atB = clearance(right);
      if (atA > 0 !== atB > 0) {
        const ms = findRoot(clearance, left, right, ROOT_TOLERANCE_MS);
        const separation = Math.abs(offset(ms));
        const counts = separation <= toleranceDeg && ms >= startMs && ms < endMs;
        if (counts && !take({ ms, separation, passage: atB > 0 ? "rising" : "setting" })) return false;
      }
      atA = atB;
    }
    return true;
  }
}
