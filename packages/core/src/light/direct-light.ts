import { type SkyCourse, skyCourse } from "../almanac/course";
import { crossingsBetween } from "../almanac/rise-set";
import { DomainError } from "../domain-error";
import type { HorizonProfile } from "../horizon/profile";
import { interpolateRoundCompass } from "../interpolation";
import type { SkyTrack } from "../sky/track";
import { type Facing, facedIntervals } from "./facing";
import { type Interval, lengthOf, overlap, positiveBetween } from "./intervals";
import { limbClearance } from "./limb-passes";
import { skylinePasses } from "./skyline-passes";
import { skylineRange } from "./skyline-range";
import { type Limb, limbAltitudeDeg } from "./sun-limb";

export { type Facing, incidenceCosine } from "./facing";

/** What brings direct light or takes it: the almanac's horizon, higher terrain, the surface turning away, or the end of the day asked for. */
export type DirectLightCause = "horizon" | "terrain" | "facing" | "day-boundary";

export interface DirectLightInterval {
  /** The first and the last instant at which any of the sun's disc is seen [Unix ms]. */
  readonly startMs: number;
  readonly endMs: number;
  readonly startCause: DirectLightCause;
  readonly endCause: DirectLightCause;
  readonly startAzimuthDeg: number;
  readonly endAzimuthDeg: number;
  /** Within them, from when and until when the whole disc is seen [Unix ms]; null where it never is. */
  readonly fullDisc: { readonly startMs: number; readonly endMs: number } | null;
}

export interface DirectLight {
  /** In order of time, none touching another. */
  readonly intervals: readonly DirectLightInterval[];
  /** Direct light that the almanac's horizon would give and the skyline takes [min], 0 or more; what a lower skyline adds is not set against it. */
  readonly minutesLostToTerrain: number;
}

export interface DirectLightRequest {
  readonly track: SkyTrack;
  /** First instant [Unix ms]. */
  readonly startMs: number;
  /** End of the span [Unix ms]. */
  readonly endMs: number;
  readonly profile: HorizonProfile;
  /** Apparent altitude of the almanac's horizon [deg]: minus the dip. */
  readonly almanacAltitudeDeg: number;
  /** The surface that is to be lit; absent for a viewer, or anything that takes light from all sides. */
  readonly facing?: Facing;
}

/** Terrain is named as the cause where the skyline stands this far above the almanac's horizon [deg]: more than refraction's own scatter. */
const TERRAIN_MARGIN_DEG = 0.05;

/**
 * Find when the sun shines directly on a place: the stretches in which its upper limb stands above the skyline, each edge with what makes it.
 * Roots of the true curve, not steps: see `skylinePasses`.
 * @param request track, span [Unix ms], skyline, and the surface to be lit
 * @returns intervals with causes and azimuths [deg], and minutes that terrain takes [min]
 * @throws DomainError for a span that is empty, a profile that cannot be read, a facing out of 0 to 360 or a slope out of 0 to 180
 * Accuracy: edges within 1 s of a scan in 1 s steps over the same profile; held in tests/core/light/direct-light.spec.ts. The air near
 * the horizon differs from the standard by 0.02 to 0.05°, 6 to 15 s at middle latitudes.
 * @example
 * const [startMs, endMs] = [Date.UTC(2027, 2, 20), Date.UTC(2027, 2, 21)];
 * const track = sunTrack(startMs, endMs, { latitude: 56.6, longitude: -9.4 });
 * const profile = { azimuthsDeg: [0, 200, 220, 320, 340], altitudesDeg: [0, 0, 6, 6, 0] };
 * directLight({ track, startMs, endMs, profile, almanacAltitudeDeg: 0 }).minutesLostToTerrain // 46.9
 */
export function directLight(request: DirectLightRequest): DirectLight {
  const { track, startMs, endMs } = request;
  if (!(endMs > startMs)) throw new DomainError({ param: "endMs", given: endMs, allowed: "an instant after startMs" });
  return directLightAlong(skyCourse(track, startMs, endMs), request);
}

/** As {@link directLight}, where the sun's course over the span is at hand. */
export function directLightAlong(
  course: SkyCourse,
  request: Omit<DirectLightRequest, "track" | "startMs" | "endMs">,
): DirectLight {
  const { track, startMs, endMs } = course;
  const { profile, almanacAltitudeDeg, facing } = request;
  const [lowestDeg, highestDeg] = skylineRange(profile);
  const passes = skylinePasses(course, profile, lowestDeg, highestDeg);
  const inSight = (limb: Limb): Interval[] =>
    positiveBetween(passes[limb], startMs, endMs, () => limbClearance(track, profile, limb)(startMs));
  const seen = inSight("upper");
  const whole = inSight("lower");
  const faced: readonly Interval[] =
    facing === undefined ? [[startMs, endMs]] : facedIntervals(track, startMs, endMs, facing);

  const skylineEdges = new Set(passes.upper.map(({ x }) => x));
  const edgeAt = (ms: number): { readonly cause: DirectLightCause; readonly azimuthDeg: number } => {
    const { azimuthDeg } = track(ms);
    if (ms <= startMs || ms >= endMs) return { cause: "day-boundary", azimuthDeg };
    if (!skylineEdges.has(ms)) return { cause: "facing", azimuthDeg };
    const skylineDeg = interpolateRoundCompass(profile.azimuthsDeg, profile.altitudesDeg, azimuthDeg);
    return { cause: skylineDeg > almanacAltitudeDeg + TERRAIN_MARGIN_DEG ? "terrain" : "horizon", azimuthDeg };
  };
  const lit = overlap(seen, faced);
  const fullDiscs = hulls(overlap(whole, lit), lit);
  const intervals = lit.map(([from, to], i): DirectLightInterval => {
    const start = edgeAt(from);
    const end = edgeAt(to);
    return {
      startMs: from,
      endMs: to,
      startCause: start.cause,
      endCause: end.cause,
      startAzimuthDeg: start.azimuthDeg,
      endAzimuthDeg: end.azimuthDeg,
      fullDisc: fullDiscs[i] ?? null,
    };
  });
  // a skyline that nowhere stands above the almanac's horizon takes nothing, whatever the last digit of an edge says
  const takes = highestDeg > almanacAltitudeDeg;
  const possible = takes ? overlap(almanacIntervals(course, almanacAltitudeDeg), faced) : [];
  const lostMs = lengthOf(possible) - lengthOf(overlap(possible, seen));
  return { intervals, minutesLostToTerrain: Math.max(0, lostMs / 60_000) };
}

/** For each stretch the part from the first to the last of the pieces that lie in it; null where none does. */
function hulls(pieces: readonly Interval[], stretches: readonly Interval[]): DirectLightInterval["fullDisc"][] {
  let next = 0;
  return stretches.map(([, to]) => {
    const first = next;
    while (next < pieces.length && (pieces[next] as Interval)[1] <= to) next++;
    if (next === first) return null;
    return { startMs: (pieces[first] as Interval)[0], endMs: (pieces[next - 1] as Interval)[1] };
  });
}

/** When the upper limb stands above the almanac's horizon, which is level all round. */
function almanacIntervals({ track, cuts }: SkyCourse, altitudeDeg: number): Interval[] {
  const clearance = (ms: number): number => limbAltitudeDeg(track(ms), "upper") - altitudeDeg;
  const found = crossingsBetween(clearance, cuts);
  const crossings =
    found.kind === "crosses" ? found.crossings.map(({ instantMs, direction }) => ({ x: instantMs, direction })) : [];
  return positiveBetween(crossings, cuts[0] as number, cuts.at(-1) as number, () =>
    found.kind === "always-above" ? 1 : -1,
  );
}
