import { cosDeg, sinDeg } from "../angles";
import { requireInRange } from "../domain-error";
import { findCrossings } from "../roots";
import type { SkyPosition } from "../sky/horizontal";
import type { SkyTrack } from "../sky/track";
import { type Interval, positiveBetween } from "./intervals";

/** A surface that light falls on. */
export interface Facing {
  /** The way it looks, degrees clockwise from true north; of no account where it is level. */
  readonly facingAzimuthDeg: number;
  /** Against the level [deg]: 0 flat ground, 90 a wall. */
  readonly slopeDeg: number;
}

// The sun goes 5° in this time: the cosine bends once at most
const STEP_MS = 20 * 60_000;
const TOLERANCE_MS = 20;

/**
 * Compute how squarely the sun's rays meet a surface: the cosine of the angle between them and its upright.
 * @param sun azimuth and apparent altitude [deg]
 * @param facing the way the surface looks, 0 to 360, and its slope, 0 to 180 [deg]
 * @returns -1 to 1; 0 or less where the surface looks away
 * Source: spherical law of cosines, cos i = sin h·cos s + cos h·sin s·cos(A - F). Held in tests/core/light/facing.spec.ts.
 * @example incidenceCosine({ azimuthDeg: 180, altitudeDeg: 60, trueAltitudeDeg: 60 }, { facingAzimuthDeg: 180, slopeDeg: 90 }) // 0.5
 */
export function incidenceCosine(sun: SkyPosition, { facingAzimuthDeg, slopeDeg }: Facing): number {
  return (
    sinDeg(sun.altitudeDeg) * cosDeg(slopeDeg) +
    cosDeg(sun.altitudeDeg) * sinDeg(slopeDeg) * cosDeg(sun.azimuthDeg - facingAzimuthDeg)
  );
}

/**
 * When the sun's centre stands on the side that a surface looks to, whatever hides it there.
 * @param track where the sun stands
 * @param startMs first instant [Unix ms]
 * @param endMs end of the span [Unix ms]
 * @throws DomainError for a facing out of 0 to 360 or a slope out of 0 to 180
 */
export function facedIntervals(track: SkyTrack, startMs: number, endMs: number, facing: Facing): Interval[] {
  requireInRange("facing.facingAzimuthDeg", facing.facingAzimuthDeg, 0, 360, "deg");
  requireInRange("facing.slopeDeg", facing.slopeDeg, 0, 180, "deg");
  const cosine = (ms: number): number => incidenceCosine(track(ms), facing);
  const crossings = findCrossings(cosine, startMs, endMs, STEP_MS, TOLERANCE_MS);
  return positiveBetween(crossings, startMs, endMs, () => cosine(startMs));
}
