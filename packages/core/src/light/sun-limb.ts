import type { SkyPosition } from "../sky/horizontal";
import { HORIZON_REFRACTION_DEG, standardRefractionDeg } from "../sky/refraction";
import { SUN_SEMIDIAMETER_DEG } from "../sky/sun";

/** Brings the standard air to the 34′ that almanacs reckon with for a limb on the horizon: one part in a hundred less. */
const ALMANAC_AIR = HORIZON_REFRACTION_DEG / standardRefractionDeg(-HORIZON_REFRACTION_DEG);
/** Nearer the zenith than where the air lifts by this much [deg] its density cannot be told from the lift. */
const LEAST_LIFT_DEG = 1e-5;

export type Limb = "upper" | "lower";

/**
 * Compute the apparent altitude of the highest or the lowest point of the sun's disc. The air lifts each limb by its own amount, so that a low sun is flattened: on
 * the horizon the upper limb stands 13′ above the centre, not 16′. Below the level the lift is held at the almanac's 34′, so that on a sea horizon
 * the upper limb comes and goes at the almanac's sunrise and sunset.
 * @param sun true and apparent altitude of the centre [deg]; the density of the air is taken from the two
 * @param limb which of them
 * @returns [deg]
 * Source: semidiameter 16′ and 34′ on the horizon, Nautical Almanac Office; above it the refraction of the track, scaled to meet them.
 * @example limbAltitudeDeg({ azimuthDeg: 270, trueAltitudeDeg: -50 / 60, altitudeDeg: -0.2154 }, "upper") // 0.0000
 */
export function limbAltitudeDeg(sun: SkyPosition, limb: Limb): number {
  const semidiameterDeg = limb === "upper" ? SUN_SEMIDIAMETER_DEG : -SUN_SEMIDIAMETER_DEG;
  return seenThrough(airDensity(sun), sun.trueAltitudeDeg + semidiameterDeg);
}

/** {@link limbAltitudeDeg} of the upper and of the lower limb, for loops: into two entries of a list. */
export function putLimbs(sun: SkyPosition, upper: Float64Array, lower: Float64Array, at: number): void {
  const air = airDensity(sun);
  upper[at] = seenThrough(air, sun.trueAltitudeDeg + SUN_SEMIDIAMETER_DEG);
  lower[at] = seenThrough(air, sun.trueAltitudeDeg - SUN_SEMIDIAMETER_DEG);
}

/** Density of the air against the standard, from how far it lifts the centre. */
function airDensity({ altitudeDeg, trueAltitudeDeg }: SkyPosition): number {
  const standardLiftDeg = standardRefractionDeg(trueAltitudeDeg);
  return standardLiftDeg > LEAST_LIFT_DEG ? (altitudeDeg - trueAltitudeDeg) / standardLiftDeg : 1;
}

function seenThrough(air: number, trueDeg: number): number {
  const liftDeg =
    trueDeg > -HORIZON_REFRACTION_DEG ? ALMANAC_AIR * standardRefractionDeg(trueDeg) : HORIZON_REFRACTION_DEG;
  return trueDeg + liftDeg * air;
}
