import { requireInRange, requirePositive } from "../domain-error";
import { requireEv100 } from "./exposure-value";

/** What an incident meter gathers light with: a flat disc for one plane, or a dome for a solid subject. */
export type IncidentReceptor = "flat" | "hemispherical";

// ISO 2720:1974, reflected-light calibration constant; 12.5 is the value in common use
export const METER_CONSTANT_K = { default: 12.5, min: 10.6, max: 13.4 } as const;

// ISO 2720:1974, incident-light calibration constant. Flat receptor: 240 to 400, 250 in common use.
// Hemispherical receptor: 320 to 540, from memory; 330 stands for the 320 to 340 in common use.
export const METER_CONSTANT_C = {
  flat: { default: 250, min: 240, max: 400 },
  hemispherical: { default: 330, min: 320, max: 540 },
} as const;

function requireK(constantK: number): number {
  return requireInRange("meterConstantK", constantK, METER_CONSTANT_K.min, METER_CONSTANT_K.max, "cd s/m²");
}

function requireC(constantC: number): number {
  // the span of both receptors, since a constant alone does not say which it was made for
  const { flat, hemispherical } = METER_CONSTANT_C;
  return requireInRange("meterConstantC", constantC, flat.min, hemispherical.max, "lx s");
}

/**
 * Compute the mean luminance that a reflected-light meter reads as `ev100`: L = K·2^EV100/100.
 * @param ev100 light [EV100], -40 to 40
 * @param constantK calibration constant K [cd s/m²], 10.6 to 13.4; default 12.5
 * @returns [cd/m²]
 * @throws DomainError outside those ranges
 * Source: ISO 2720:1974. Held by the golden rows `evlum`.
 * @example luminanceFromEv100(15) // 4096
 */
export function luminanceFromEv100(ev100: number, constantK: number = METER_CONSTANT_K.default): number {
  return (requireK(constantK) / 100) * 2 ** requireEv100("ev100", ev100);
}

/**
 * Compute the EV100 of a luminance, as a spot meter reads it: the inverse of {@link luminanceFromEv100}.
 * @param luminanceCdPerM2 [cd/m²], greater than 0
 * @param constantK calibration constant K [cd s/m²], 10.6 to 13.4; default 12.5
 * @returns [EV100]
 * @throws DomainError outside those ranges
 * Source: ISO 2720:1974. Held by the golden rows `evlum`.
 * @example ev100FromLuminance(4096) // 15
 */
export function ev100FromLuminance(luminanceCdPerM2: number, constantK: number = METER_CONSTANT_K.default): number {
  requirePositive("luminanceCdPerM2", luminanceCdPerM2, "cd/m²");
  return Math.log2((luminanceCdPerM2 * 100) / requireK(constantK));
}

/**
 * Compute the illuminance that an incident-light meter reads as `ev100`: E = C·2^EV100/100.
 * @param ev100 light [EV100], -40 to 40
 * @param constantC calibration constant C [lx s], 240 to 540; default 250, for a flat receptor
 * @returns [lx]
 * @throws DomainError outside those ranges
 * Source: ISO 2720:1974. Held by the golden rows `evlux` and `meter`.
 * @example illuminanceFromEv100(15) // 81920
 */
export function illuminanceFromEv100(ev100: number, constantC: number = METER_CONSTANT_C.flat.default): number {
  return (requireC(constantC) / 100) * 2 ** requireEv100("ev100", ev100);
}

/**
 * Compute the EV100 of an illuminance on the subject: the inverse of {@link illuminanceFromEv100}.
 * @param illuminanceLux [lx], greater than 0
 * @param constantC calibration constant C [lx s], 240 to 540; default 250, for a flat receptor
 * @returns [EV100]
 * @throws DomainError outside those ranges
 * Source: ISO 2720:1974. Held by the golden rows `evlux` and `meter`.
 * @example ev100FromIlluminance(81920) // 15
 */
export function ev100FromIlluminance(
  illuminanceLux: number,
  constantC: number = METER_CONSTANT_C.flat.default,
): number {
  requirePositive("illuminanceLux", illuminanceLux, "lx");
  return Math.log2((illuminanceLux * 100) / requireC(constantC));
}
