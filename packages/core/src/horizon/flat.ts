import { dipDeg } from "../almanac/dip";
import { requireInRange } from "../domain-error";
import type { HorizonProfile } from "./profile";

/** The highest eye above the sea [m]: about that of the highest summit. */
const MAX_EYE_HEIGHT_M = 9000;

/**
 * Make the open horizon all round, as over the sea: its apparent altitude is the dip ({@link dipDeg}), below zero. On level ground take the height of
 * the eye above that ground.
 *
 * @param eyeHeightM height of the eye above sea or plain [m], 0 to 9000
 * @returns a profile of two azimuths, the same altitude all round
 * @throws DomainError naming `eyeHeightM`
 * @example
 * flatHorizon(0) // { azimuthsDeg: [0, 180], altitudesDeg: [0, 0] }
 */
export function flatHorizon(eyeHeightM = 0): HorizonProfile {
  requireInRange("eyeHeightM", eyeHeightM, 0, MAX_EYE_HEIGHT_M, "m");
  const altitudeDeg = 0 - dipDeg(eyeHeightM);
  return { azimuthsDeg: [0, 180], altitudesDeg: [altitudeDeg, altitudeDeg] };
}
