import { cosDeg, sinDeg, wrap360 } from "../angles";
import { DomainError, requireInRange } from "../domain-error";
import type { HorizonProfile } from "../horizon/profile";
import { interpolateRoundCompass, lastIndexAtOrBelow } from "../interpolation";
import { findPeak, findRoot } from "../roots";
import { altitudeExtremes } from "../sky/culminations";
import type { SkyPosition } from "../sky/horizontal";
import { SUN_SEMIDIAMETER_DEG } from "../sky/rise-set";
import type { SkyTrack } from "../sky/track";

/** What brings direct light or takes it: the almanac's horizon, higher terrain, the surface turning away, or the end of the day asked for. */
export type DirectLightCause = "horizon" | "terrain" | "facing" | "day-boundary";

/** A surface that light falls on. */
export interface Facing {
  /** The way it looks, degrees clockwise from true north; of no account where it is level. */
  readonly facingAzimuthDeg: number;
  /** Against the level [deg]: 0 flat ground, 90 a wall. */
  readonly slopeDeg: number;
}

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
  /** Direct light that the almanac's horizon would give, less what there is [min]. */
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

const TOLERANCE_MS = 50;
/** Terrain is named as the cause where the skyline stands this far above the almanac's horizon [deg]: more than refraction's own scatter. */
const TERRAIN_MARGIN_DEG = 0.05;

/**
 * When the sun shines directly on a place: the stretches in which its upper limb stands above the skyline, each edge with what makes it.
 * Roots of the true curve, not steps: the span is cut at the sun's highest and lowest points and wherever its azimuth passes a node of
 * the profile; on each piece the skyline is a straight line, so that the sun clears it at most twice, and a grazing pass is looked for.
 * @param request track, span [Unix ms], skyline, and the surface to be lit
 * @returns intervals with causes and azimuths [deg], and minutes that terrain takes [min]
 * @throws DomainError for a slope outside 0 to 180 or a span that is empty
 * Accuracy: edges within 1 s of a scan in 1 s steps over the same profile; held in tests/core/light/direct-light.spec.ts. The air near
 * the horizon differs from the standard by 0.02 to 0.05°, 6 to 15 s at middle latitudes.
 */
export function directLight(request: DirectLightRequest): DirectLight {
  const { track, startMs, endMs, profile, almanacAltitudeDeg, facing } = request;
  if (!(endMs > startMs)) throw new DomainError({ param: "endMs", given: endMs, allowed: "an instant after startMs" });
  const cuts = [startMs, ...altitudeExtremes(track, startMs, endMs).map(({ instantMs }) => instantMs), endMs];
  const clearance = (sky: SkyPosition): number => sky.altitudeDeg - skylineAt(profile, sky.azimuthDeg);
  const upperLimb = (ms: number): number => clearance(track(ms)) + SUN_SEMIDIAMETER_DEG;
  const lowerLimb = (ms: number): number => clearance(track(ms)) - SUN_SEMIDIAMETER_DEG;

  const seen = skylineIntervals(track, cuts, profile, upperLimb, SUN_SEMIDIAMETER_DEG);
  const whole = skylineIntervals(track, cuts, profile, lowerLimb, -SUN_SEMIDIAMETER_DEG);
  const level = { azimuthsDeg: [0, 180], altitudesDeg: [almanacAltitudeDeg, almanacAltitudeDeg] };
  const almanac = skylineIntervals(
    track,
    cuts,
    level,
    (ms) => track(ms).altitudeDeg - almanacAltitudeDeg + SUN_SEMIDIAMETER_DEG,
    SUN_SEMIDIAMETER_DEG,
  );
  const turned = facing === undefined ? [[startMs, endMs] as const] : facingIntervals(track, cuts, facing);

  const causeAt = (ms: number): DirectLightCause => {
    if (ms <= startMs || ms >= endMs) return "day-boundary";
    if (turned.some(([a, b]) => (ms === a || ms === b) && ms > startMs && ms < endMs)) return "facing";
    return skylineAt(profile, track(ms).azimuthDeg) > almanacAltitudeDeg + TERRAIN_MARGIN_DEG ? "terrain" : "horizon";
  };
  const intervals = overlap(seen, turned).map(([a, b]): DirectLightInterval => {
    const full = overlap(whole, [[a, b]]);
    return {
      startMs: a,
      endMs: b,
      startCause: causeAt(a),
      endCause: causeAt(b),
      startAzimuthDeg: track(a).azimuthDeg,
      endAzimuthDeg: track(b).azimuthDeg,
      fullDisc: full.length === 0 ? null : { startMs: full[0]![0], endMs: full.at(-1)![1] },
    };
  });
  const possible = lengthOf(overlap(almanac, turned));
  const kept = lengthOf(overlap(overlap(almanac, turned), seen));
  return { intervals, minutesLostToTerrain: Math.max(0, (possible - kept) / 60_000) };
}

/**
 * Cosine of the angle between the sun's rays and the upright of a surface; 0 or less where the surface looks away.
 * Source: spherical law of cosines, cos i = sin h·cos s + cos h·sin s·cos(A - F).
 */
export function incidenceCosine(sun: SkyPosition, { facingAzimuthDeg, slopeDeg }: Facing): number {
  return (
    sinDeg(sun.altitudeDeg) * cosDeg(slopeDeg) +
    cosDeg(sun.altitudeDeg) * sinDeg(slopeDeg) * cosDeg(sun.azimuthDeg - facingAzimuthDeg)
  );
}

type Interval = readonly [number, number];

function skylineAt(profile: HorizonProfile, azimuthDeg: number): number {
  return interpolateRoundCompass(profile.azimuthsDeg, profile.altitudesDeg, azimuthDeg);
}

/** Where a curve of clearance is positive, cut finely enough that each piece bends at most once. */
function skylineIntervals(
  track: SkyTrack,
  cuts: readonly number[],
  profile: HorizonProfile,
  clearance: (ms: number) => number,
  limbDeg: number,
): Interval[] {
  const lowest = Math.min(...extremesOf(profile)) - limbDeg;
  const highest = Math.max(...extremesOf(profile)) - limbDeg;
  const edges: number[] = [];
  for (let i = 1; i < cuts.length; i++) {
    const band = bandIn(track, cuts[i - 1] as number, cuts[i] as number, lowest, highest);
    if (band !== null) collectEdges(track, band[0], band[1], profile, clearance, edges);
  }
  return intervalsFromEdges(edges, cuts[0] as number, cuts.at(-1) as number, clearance);
}

const extremes = new WeakMap<HorizonProfile, readonly [number, number]>();

function extremesOf(profile: HorizonProfile): readonly [number, number] {
  let known = extremes.get(profile);
  if (known === undefined) {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (const altitude of profile.altitudesDeg) {
      if (altitude < low) low = altitude;
      if (altitude > high) high = altitude;
    }
    known = [low, high];
    extremes.set(profile, known);
  }
  return known;
}

/** The part of a piece, on which altitude only rises or only falls, where it lies between two altitudes; null where it never does. */
function bandIn(track: SkyTrack, a: number, b: number, low: number, high: number): Interval | null {
  const altitude = (ms: number): number => track(ms).altitudeDeg;
  const atA = altitude(a);
  const atB = altitude(b);
  if (Math.max(atA, atB) < low || Math.min(atA, atB) > high) return null;
  const crossing = (level: number): number => findRoot((ms) => altitude(ms) - level, a, b, 1000);
  const rising = atB > atA;
  const [first, last] = rising ? [low, high] : [high, low];
  const enters = rising ? atA < first : atA > first;
  const leaves = rising ? atB > last : atB < last;
  return [enters ? Math.max(a, crossing(first) - 2000) : a, leaves ? Math.min(b, crossing(last) + 2000) : b];
}

/** Walks a stretch from node to node of the profile and adds every change of sign. */
function collectEdges(
  track: SkyTrack,
  fromMs: number,
  toMs: number,
  profile: HorizonProfile,
  clearance: (ms: number) => number,
  edges: number[],
): void {
  const cuts = nodeCuts(track, fromMs, toMs, profile.azimuthsDeg);
  let before = clearance(fromMs);
  for (let i = 1; i < cuts.length; i++) {
    const a = cuts[i - 1] as number;
    const b = cuts[i] as number;
    const after = clearance(b);
    if (before > 0 !== after > 0) edges.push(findRoot(clearance, a, b, TOLERANCE_MS));
    else if (b - a > 2 * TOLERANCE_MS) grazing(clearance, a, b, before, after, edges);
    before = after;
  }
}

/** Both edges of a pass that begins and ends inside one piece. */
function grazing(
  clearance: (ms: number) => number,
  a: number,
  b: number,
  atA: number,
  atB: number,
  edges: number[],
): void {
  const sign = atA > 0 ? -1 : 1;
  const middle = sign * clearance((a + b) / 2);
  // how far the curve bends away from its chord at most, with room: only a nearer zero can be reached
  const bend = Math.abs(middle - (sign * (atA + atB)) / 2);
  const nearest = Math.max(sign * atA, sign * atB, middle);
  if (nearest <= 0 && nearest + 4 * bend < 0) return;
  const peak = findPeak((ms) => sign * clearance(ms), a, b, TOLERANCE_MS);
  if (sign * clearance(peak) <= 0) return;
  edges.push(findRoot(clearance, a, peak, TOLERANCE_MS), findRoot(clearance, peak, b, TOLERANCE_MS));
}

const LONGEST_PIECE_MS = 5 * 60_000;

/** Instants that cut a stretch wherever the body's azimuth passes a node, and into pieces of five minutes at most. */
function nodeCuts(track: SkyTrack, fromMs: number, toMs: number, azimuthsDeg: readonly number[]): number[] {
  const count = Math.max(1, Math.ceil((toMs - fromMs) / LONGEST_PIECE_MS));
  const cuts = [fromMs];
  let a = fromMs;
  let azimuthA = track(a).azimuthDeg;
  for (let i = 1; i <= count; i++) {
    const b = i === count ? toMs : fromMs + ((toMs - fromMs) * i) / count;
    const azimuthB = track(b).azimuthDeg;
    const swing = wrap360(azimuthB - azimuthA + 180) - 180;
    for (const node of nodesBetween(azimuthsDeg, azimuthA, swing)) {
      const offset = (ms: number): number => wrap360(track(ms).azimuthDeg - node + 180) - 180;
      const cut = Math.abs(swing) < 90 && offset(a) > 0 !== offset(b) > 0 ? findRoot(offset, a, b, 200) : null;
      if (cut !== null && cut > (cuts.at(-1) as number) && cut < b) cuts.push(cut);
    }
    if (b > (cuts.at(-1) as number)) cuts.push(b);
    a = b;
    azimuthA = azimuthB;
  }
  return cuts;
}

/** The nodes that a swing from an azimuth passes, in the order in which it passes them. */
function nodesBetween(azimuthsDeg: readonly number[], fromDeg: number, swingDeg: number): number[] {
  const n = azimuthsDeg.length;
  const nodes: number[] = [];
  if (swingDeg >= 0) {
    let index = lastIndexAtOrBelow(azimuthsDeg, fromDeg) + 1;
    for (let k = 0; k < n; k++, index++) {
      const node = azimuthsDeg[index % n] as number;
      if (wrap360(node - fromDeg) > swingDeg) break;
      nodes.push(node);
    }
  } else {
    let index = lastIndexAtOrBelow(azimuthsDeg, fromDeg);
    for (let k = 0; k < n; k++, index--) {
      const node = azimuthsDeg[((index % n) + n) % n] as number;
      if (wrap360(fromDeg - node) > -swingDeg) break;
      nodes.push(node);
    }
  }
  return nodes;
}

/** When the sun stands on the side that a surface looks to. */
function facingIntervals(track: SkyTrack, cuts: readonly number[], facing: Facing): Interval[] {
  requireInRange("subject.slopeDeg", facing.slopeDeg, 0, 180, "deg");
  requireInRange("subject.facingAzimuthDeg", facing.facingAzimuthDeg, 0, 360, "deg");
  const start = cuts[0] as number;
  const end = cuts.at(-1) as number;
  const cosine = (ms: number): number => incidenceCosine(track(ms), facing);
  const edges: number[] = [];
  const count = Math.ceil((end - start) / (10 * 60_000));
  let before = cosine(start);
  for (let i = 1; i <= count; i++) {
    const a = start + ((end - start) * (i - 1)) / count;
    const b = start + ((end - start) * i) / count;
    const after = cosine(b);
    if (before > 0 !== after > 0) edges.push(findRoot(cosine, a, b, TOLERANCE_MS));
    else grazing(cosine, a, b, before, after, edges);
    before = after;
  }
  return intervalsFromEdges(edges, start, end, cosine);
}

function intervalsFromEdges(edges: number[], start: number, end: number, curve: (ms: number) => number): Interval[] {
  edges.sort((a, b) => a - b);
  const all = [start, ...edges, end];
  const intervals: Interval[] = [];
  for (let i = 1; i < all.length; i++) {
    const a = all[i - 1] as number;
    const b = all[i] as number;
    if (b - a <= 2 * TOLERANCE_MS || curve((a + b) / 2) <= 0) continue;
    const last = intervals.at(-1);
    if (last !== undefined && last[1] === a) intervals[intervals.length - 1] = [last[0], b];
    else intervals.push([a, b]);
  }
  return intervals;
}

function overlap(one: readonly Interval[], other: readonly Interval[]): Interval[] {
  return one.flatMap(([a, b]) =>
    other.flatMap(([c, d]): Interval[] => (Math.min(b, d) > Math.max(a, c) ? [[Math.max(a, c), Math.min(b, d)]] : [])),
  );
}

function lengthOf(intervals: readonly Interval[]): number {
  return intervals.reduce((sum, [a, b]) => sum + b - a, 0);
}
