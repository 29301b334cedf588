import { requireInRange, requirePositive } from "../domain-error";

// Speed value 0 stands for ISO 3.125 (APEX, ASA PH2.5-1960; ANSI PH3.49-1971)
const ISO_AT_SPEED_VALUE_0 = 3.125;

// The arithmetic speed that EV100 is counted at, by its name
const ISO_OF_EV100 = 100;

/** The range of EV100 that core answers for: far beyond starless night at one end and the sun's disc at the other. */
export const EV100_RANGE = { min: -40, max: 40 } as const;

/** Return `ev100` when it is within {@link EV100_RANGE}; otherwise throw a DomainError that names the parameter. */
export function requireEv100(param: string, ev100: number): number {
  return requireInRange(param, ev100, EV100_RANGE.min, EV100_RANGE.max, "EV100");
}

/**
 * Compute the exposure value of an aperture and a shutter time, whatever the film or sensor speed: EV = log2(N²/t).
 * @param aperture f-number, exact, not its mark [1], greater than 0
 * @param shutterSeconds exact time [s], greater than 0
 * @returns exposure value [EV]
 * @throws DomainError for anything not finite or not above 0
 * Source: ASA PH2.5-1960 (APEX). Accuracy: that of the machine; held by the groups `ev` and `apex` of the golden rows.
 * @example exposureValue(16, 1 / 128) // 15
 */
export function exposureValue(aperture: number, shutterSeconds: number): number {
  requirePositive("aperture", aperture);
  requirePositive("shutterSeconds", shutterSeconds, "s");
  return Math.log2((aperture * aperture) / shutterSeconds);
}

/**
 * Compute the light, as EV at ISO 100, that a camera set to `ev` at `iso` is exposed for: EV100 = EV − log2(ISO/100).
 * @param ev exposure value of the settings [EV]
 * @param iso arithmetic speed [ISO], greater than 0
 * @returns [EV100]
 * @throws DomainError for a value that is not finite, or an ISO not above 0
 * Source: definition of EV at a stated speed (APEX; ISO 2720:1974). Held by the golden rows `evIso`.
 * @example ev100FromEv(15, 400) // 13
 */
export function ev100FromEv(ev: number, iso: number): number {
  requireInRange("ev", ev, -100, 100, "EV");
  return ev - Math.log2(requirePositive("iso", iso) / ISO_OF_EV100);
}

/**
 * Compute the exposure value to set at `iso` in a light of `ev100`; the inverse of {@link ev100FromEv}.
 * @param ev100 light [EV100], -40 to 40
 * @param iso arithmetic speed [ISO], greater than 0
 * @returns [EV]
 * @throws DomainError outside those ranges
 * Source: as {@link ev100FromEv}; held by the golden rows `evIso`.
 * @example evAtIso(13, 400) // 15
 */
export function evAtIso(ev100: number, iso: number): number {
  return requireEv100("ev100", ev100) + Math.log2(requirePositive("iso", iso) / ISO_OF_EV100);
}

/**
 * Compute the aperture value of APEX: Av = log2(N²).
 * @param aperture exact f-number [1], greater than 0
 * @returns [stops]
 * @throws DomainError otherwise
 * Source: ASA PH2.5-1960. Held by the golden rows `apex`.
 * @example apertureValue(8) // 6
 */
export function apertureValue(aperture: number): number {
  return 2 * Math.log2(requirePositive("aperture", aperture));
}

/**
 * Compute the time value of APEX: Tv = −log2(t).
 * @param shutterSeconds exact time [s], greater than 0
 * @returns [stops]
 * @throws DomainError otherwise
 * Source: ASA PH2.5-1960. Held by the golden rows `apex`.
 * @example timeValue(1 / 64) // 6
 */
export function timeValue(shutterSeconds: number): number {
  return -Math.log2(requirePositive("shutterSeconds", shutterSeconds, "s"));
}

/**
 * Compute the speed value of APEX: Sv = log2(S/3.125).
 * @param iso arithmetic speed [ISO], greater than 0
 * @returns [stops]
 * @throws DomainError otherwise
 * Source: ASA PH2.5-1960; ANSI PH3.49-1971. Held by the golden rows `apex`.
 * @example speedValue(100) // 5
 */
export function speedValue(iso: number): number {
  return Math.log2(requirePositive("iso", iso) / ISO_AT_SPEED_VALUE_0);
}

/**
 * Compute the brightness value of APEX, the light alone: Bv = Av + Tv − Sv = EV100 − 5.
 * @param ev100 light [EV100], -40 to 40
 * @returns [stops]
 * @throws DomainError otherwise
 * Source: ASA PH2.12-1961. Held by tests/core/exposure/exposure-value.spec.ts.
 * @example brightnessValue(15) // 10
 */
export function brightnessValue(ev100: number): number {
  return requireEv100("ev100", ev100) - Math.log2(ISO_OF_EV100 / ISO_AT_SPEED_VALUE_0);
}

/**
 * Compute the logarithmic film speed in degrees, as in ISO 100/21°: 10·log10(S) + 1, rounded.
 * @param iso arithmetic speed [ISO], greater than 0
 * @returns whole degrees
 * @throws DomainError otherwise
 * Source: ISO 5800, from memory. Held by the golden rows `iso`.
 * @example isoDegrees(100) // 21
 */
export function isoDegrees(iso: number): number {
  return Math.round(10 * Math.log10(requirePositive("iso", iso)) + 1);
}
