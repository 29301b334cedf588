import { atanDeg, cosDeg } from "../angles";
import { requireInRange } from "../domain-error";

/** Share of light that a smooth surface throws back, by the way it is polarized. */
export interface FresnelReflectance {
  /** Polarized across the plane of incidence: along the surface. */
  readonly s: number;
  /** Polarized in the plane of incidence. */
  readonly p: number;
  /** Of unpolarized light: the mean of both. */
  readonly mean: number;
}

// Water at 20 °C in yellow light, CRC Handbook; sea water is about 1.34
export const WATER_REFRACTIVE_INDEX = 1.333;

/**
 * Compute what a smooth, clear surface reflects.
 * @param incidenceDeg from the normal [deg], 0 to 90; a look that goes down by d meets still water at 90 − d
 * @param refractiveIndex [1], 1 to 4; default 1.333, water
 * @throws DomainError outside those ranges
 * Source: Fresnel's equations (Born & Wolf 1999, Principles of Optics, §1.5.2). Held by the golden rows `fresnel`,
 * 1e-6.
 * @example fresnelReflectance(80).mean // 0.3479167
 */
export function fresnelReflectance(incidenceDeg: number, refractiveIndex = WATER_REFRACTIVE_INDEX): FresnelReflectance {
  requireInRange("incidenceDeg", incidenceDeg, 0, 90, "deg");
  requireInRange("refractiveIndex", refractiveIndex, 1, 4);
  return fresnelAtCosine(cosDeg(incidenceDeg), refractiveIndex);
}

/** The same by the cosine of the incidence, 0 to 1; for loops. */
export function fresnelAtCosine(cosIn: number, refractiveIndex = WATER_REFRACTIVE_INDEX): FresnelReflectance {
  const cosThrough = Math.sqrt(1 - (1 - cosIn * cosIn) / (refractiveIndex * refractiveIndex));
  // grazing light on a surface that is none: nothing is thrown back
  if (refractiveIndex === 1) return { s: 0, p: 0, mean: 0 };
  const s = ((cosIn - refractiveIndex * cosThrough) / (cosIn + refractiveIndex * cosThrough)) ** 2;
  const p = ((refractiveIndex * cosIn - cosThrough) / (refractiveIndex * cosIn + cosThrough)) ** 2;
  return { s, p, mean: (s + p) / 2 };
}

/**
 * Compute the polarizing (Brewster) angle: the incidence at which what is reflected is wholly polarized along the surface.
 * @param refractiveIndex [1], 1 to 4; default 1.333, water
 * @returns from the normal [deg]
 * @throws DomainError outside that range
 * Source: Brewster 1815, tan θ = n. Held by the golden rows `brewster`.
 * @example polarizingAngleDeg() // 53.1232
 */
export function polarizingAngleDeg(refractiveIndex = WATER_REFRACTIVE_INDEX): number {
  return atanDeg(requireInRange("refractiveIndex", refractiveIndex, 1, 4));
}
