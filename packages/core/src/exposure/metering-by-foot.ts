import { requireInRange } from "../domain-error";

/** A footlambert in cd/m², and a footcandle in lx, from the foot of 0.3048 m exactly (definitions of the units). */
const SQUARE_FEET_PER_SQUARE_METRE = 1 / (0.3048 * 0.3048);
const CANDELAS_PER_FOOTLAMBERT = SQUARE_FEET_PER_SQUARE_METRE / Math.PI;

/**
 * Convert a luminance to footlamberts, as older meters and tables print it.
 * @param luminanceCdPerM2 [cd/m²], 0 or more
 * @returns [footlambert]
 * @throws DomainError otherwise
 * Source: definition, 1/π cd per square foot. Held by the golden rows `evfl`.
 * @example footlambertsFromLuminance(4096) // 1195.47
 */
export function footlambertsFromLuminance(luminanceCdPerM2: number): number {
  return requireInRange("luminanceCdPerM2", luminanceCdPerM2, 0, Number.MAX_VALUE) / CANDELAS_PER_FOOTLAMBERT;
}

/**
 * Convert an illuminance to footcandles, as older meters and tables print it.
 * @param illuminanceLux [lx], 0 or more
 * @returns [footcandle]
 * @throws DomainError otherwise
 * Source: definition, 1 lumen per square foot. Held by the golden rows `evfc`.
 * @example footcandlesFromIlluminance(2560) // 237.83
 */
export function footcandlesFromIlluminance(illuminanceLux: number): number {
  return requireInRange("illuminanceLux", illuminanceLux, 0, Number.MAX_VALUE) / SQUARE_FEET_PER_SQUARE_METRE;
}
