import { acosDeg, asinDeg, atan2Deg, cosDeg, sinDeg } from "../angles";
import { requireInRange } from "../domain-error";
import { cloudEffect } from "./cloud";
import { CLEAR_SKY, requireTurbidity, type SkyPoint, type SkyState, TURBIDITY } from "./sky-types";

/** How a direction of the sky is polarized. */
export interface SkyPolarizationAt {
  /** Degree of polarization [1], 0 to 1. */
  readonly degree: number;
  /** The way the light swings [deg]: from the vertical, clockwise as one looks at it, 0 to 180; 0 where it is not polarized. */
  readonly directionDeg: number;
  /** From the sun [deg], 0 to 180. */
  readonly fromSunDeg: number;
}

/** The polarization of a whole sky. */
export interface SkyPolarization {
  /** Degree of polarization a quarter turn from the sun [1]. */
  readonly maximum: number;
  toward(azimuthDeg: number, altitudeDeg: number): SkyPolarizationAt;
}

// Bodhaine, Wood, Dutton & Slusser 1999, J. Atmos. Oceanic Technol. 16:1854: depolarization ratio of air in green light
const AIR_DEPOLARIZATION = 0.0279;

// Our own choice: a tenth is lost to light that is scattered more than once or thrown up by the ground. Measured
// maxima in clean air are 0.70 to 0.85 by the brightness of the ground (Dahlberg, Pust & Shaw 2011, Optics Express
// 19:16008).
const SINGLE_SCATTERING_SHARE = 0.9;

// Haze adds light that is hardly polarized, in proportion to its optical depth: the maximum is divided by
// 1 + k·(turbidity − 1). Our own fit, the k with the smallest largest error (0.09), to 0.70 at an aerosol optical
// depth of 0.05 and 0.40 at 0.5 (abstract of "Measuring the influence of aerosols and albedo on sky polarization",
// 450 nm; turbidity 1.4 and 4.8 with an Ångström exponent of 1.3) and to 0.775 under the usual clear sky (the middle
// of 0.70 to 0.85, from memory).
const HAZE_DILUTION = 0.2;

// Our own choice: once the sun is 6° down the light scattered once gives way, and at 18° none of it is left
const TWILIGHT_FADES_FROM_DEG = -6;
const TWILIGHT_GONE_AT_DEG = -18;

/**
 * Compute the degree of polarization of light that air scatters once.
 * @param fromSunDeg angle from the sun [deg], 0 to 180
 * @param maximum degree of polarization a quarter turn from the sun [1], 0 to 1; default 1
 * @returns [1], 0 toward the sun and away from it, `maximum` at 90°
 * @throws DomainError outside those ranges
 * Source: Rayleigh 1871; p = pmax·sin²γ / (1 + cos²γ). Held by the golden rows `rayleigh`, 1e-6.
 * @example rayleighPolarization(60, 0.8) // 0.48
 */
export function rayleighPolarization(fromSunDeg: number, maximum = 1): number {
  requireInRange("fromSunDeg", fromSunDeg, 0, 180, "deg");
  requireInRange("maximum", maximum, 0, 1);
  return maximum * rayleighAtCosine(cosDeg(fromSunDeg));
}

/**
 * Compute the most that air which scatters once can polarize: its molecules are not quite round.
 * @param depolarizationRatio [1], 0 to 0.5; default 0.0279, air in green light
 * @returns degree of polarization at 90° from the sun [1]
 * @throws DomainError outside that range
 * Source: 1 / (1 + 4(1 − D)/(3D)) with D = (1 − δ)/(1 + δ/2). Held by the golden row `rayleigh.depol.max`, 1e-6.
 * @example airPolarizationMaximum() // 0.945715
 */
export function airPolarizationMaximum(depolarizationRatio = AIR_DEPOLARIZATION): number {
  const ratio = requireInRange("depolarizationRatio", depolarizationRatio, 0, 0.5);
  const d = (1 - ratio) / (1 + ratio / 2);
  return 1 / (1 + (4 * (1 - d)) / (3 * d));
}

/**
 * Compute how strongly a sky is polarized a quarter turn from the sun: 0.85 in very clear air, less with haze, nothing under an
 * overcast. Under broken cloud it is the mean over blue and cloud: the blue gaps keep more.
 * @param sky cloud and turbidity; clear and of usual clearness where absent
 * @returns degree of polarization [1], 0 to 0.851
 * @throws DomainError for a sky out of range
 * Source: see the constants above. Accuracy: within 0.1 of published maxima, held by tests/accuracy.
 * @example maximumPolarization({ turbidity: 2.12 }) // 0.695
 */
export function maximumPolarization({ cloudCover = CLEAR_SKY, turbidity = TURBIDITY.usual }: SkyState = {}): number {
  requireTurbidity(turbidity);
  const clear = (airPolarizationMaximum() * SINGLE_SCATTERING_SHARE) / (1 + HAZE_DILUTION * (turbidity - 1));
  return clear * (1 - cloudEffect(cloudCover).overcastness);
}

/**
 * Compute how the sky is polarized, and which way, under a sun.
 * @param sun apparent azimuth and altitude [deg]; below the horizon the light of dusk is polarized by the same law,
 * fading out between 6° and 18° down
 * @param sky cloud and turbidity; clear where absent
 * @throws DomainError for an altitude that is none, or a sky out of range
 * Source: Rayleigh 1871: the light swings square to the plane through sun, point and eye. The neutral points near the
 * sun and opposite it, where the true sky departs from this by up to 0.1, are left out. Held by
 * tests/core/sky/polarization.spec.ts.
 * @example skyPolarization({ azimuthDeg: 270, altitudeDeg: 0 }).toward(0, 0) // { degree: 0.695, directionDeg: 0, fromSunDeg: 90 }
 */
export function skyPolarization(sun: SkyPoint, sky: SkyState = {}): SkyPolarization {
  requireInRange("sun.azimuthDeg", sun.azimuthDeg, -360, 720, "deg");
  requireInRange("sun.altitudeDeg", sun.altitudeDeg, -90, 90, "deg");
  const faded = (sun.altitudeDeg - TWILIGHT_GONE_AT_DEG) / (TWILIGHT_FADES_FROM_DEG - TWILIGHT_GONE_AT_DEG);
  const maximum = maximumPolarization(sky) * Math.max(0, Math.min(1, faded));
  const sinSun = sinDeg(sun.altitudeDeg);
  const cosSun = cosDeg(sun.altitudeDeg);
  return {
    maximum,
    toward(azimuthDeg, altitudeDeg) {
      const sinAltitude = sinDeg(altitudeDeg);
      const cosAltitude = cosDeg(altitudeDeg);
      const apart = azimuthDeg - sun.azimuthDeg;
      // the sun as it lies from the point: to the right of it, above it, and along the line of sight
      const right = -cosSun * sinDeg(apart);
      const above = sinSun * cosAltitude - cosSun * cosDeg(apart) * sinAltitude;
      const along = sinSun * sinAltitude + cosSun * cosDeg(apart) * cosAltitude;
      const across = Math.hypot(right, above);
      // near the sun and opposite it the sine keeps the digits that the cosine loses
      const fromSunDeg = across < 0.5 ? (along > 0 ? asinDeg(across) : 180 - asinDeg(across)) : acosDeg(along);
      const degree = maximum * rayleighAtCosine(along);
      if (degree === 0 || across < 1e-9) return { degree: 0, directionDeg: 0, fromSunDeg };
      // square to the way toward the sun
      return { degree, directionDeg: halfTurn(atan2Deg(above, -right)), fromSunDeg };
    },
  };
}

function rayleighAtCosine(cosine: number): number {
  const square = Math.min(1, cosine * cosine);
  return (1 - square) / (1 + square);
}

/** A direction without a sense, in [0, 180). */
function halfTurn(deg: number): number {
  const turned = ((deg % 180) + 180) % 180;
  return turned >= 180 ? 0 : turned + 0;
}
