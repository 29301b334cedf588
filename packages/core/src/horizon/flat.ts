import { requireInRange } from "../domain-error";
import type { HorizonProfile } from "./profile";

/** The highest eye above the sea that the dip is given for [m]: about that of the highest summit. */
const MAX_EYE_HEIGHT_M = 9000;

// The Nautical Almanac (HMNAO/USNO), altitude correction tables: dip = 1.76′ × √(height of eye in metres); the third digit of 1.758
// from memory
const DIP_ARCMINUTES_PER_ROOT_METRE = 1.758;

/**
 * How far the sea horizon lies below the horizontal, refraction in it: the navigator's dip.
 *
 * @param eyeHeightM height of the eye above the sea [m], 0 to 9000
 * @returns dip [deg], zero or more
 * @throws DomainError naming `eyeHeightM`
 * @example
 * seaDipDeg(10) // 0.0927
 */
export function seaDipDeg(eyeHeightM: number): number {
  requireInRange("eyeHeightM", eyeHeightM, 0, MAX_EYE_HEIGHT_M, "m");
  return (DIP_ARCMINUTES_PER_ROOT_METRE / 60) * Math.sqrt(eyeHeightM);
}

/**
 * The open horizon all round, as over the sea: its apparent altitude is the dip, below zero. On level ground take the height of
 * the eye above that ground.
 *
 * @param eyeHeightM height of the eye above sea or plain [m], 0 to 9000
 * @returns a profile of two azimuths, the same altitude all round
 * @throws DomainError naming `eyeHeightM`
 * @example
 * flatHorizon(0) // { azimuthsDeg: [0, 180], altitudesDeg: [0, 0] }
 */
export function flatHorizon(eyeHeightM = 0): HorizonProfile {
  const altitudeDeg = 0 - seaDipDeg(eyeHeightM);
  return { azimuthsDeg: [0, 180], altitudesDeg: [altitudeDeg, altitudeDeg] };
}
