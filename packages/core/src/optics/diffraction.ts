import { requireInRange, requirePositive } from "../domain-error";

// First zero of the Bessel function J1, over π: the first dark ring lies at radius 1.2197·λ·N (Airy 1835; Abramowitz & Stegun 1964, table 9.5)
const FIRST_DARK_RING = 3.83170597020751 / Math.PI;

/** Green light, near the peak of the eye's sensitivity at 555 nm (CIE 1924); 550 by common practice [nm]. */
export const GREEN_LIGHT_NM = 550;

/**
 * Compute the diameter of the Airy disc, to its first dark ring, that diffraction makes of a point: 2.44·λ·N.
 * @param aperture exact f-number [1], 0.1 to 1024
 * @param wavelengthNm [nm], 100 to 20,000; default 550
 * @returns [µm]
 * @throws DomainError outside those ranges
 * Source: Airy 1835. Accuracy: exact for a perfect round opening, focused far away; held by the golden rows `airy`.
 * @example airyDiameterUm(11) // 14.76
 */
export function airyDiameterUm(aperture: number, wavelengthNm: number = GREEN_LIGHT_NM): number {
  requireInRange("aperture", aperture, 0.1, 1024);
  return 2 * FIRST_DARK_RING * (requireInRange("wavelengthNm", wavelengthNm, 100, 20_000, "nm") / 1000) * aperture;
}

/**
 * Compute the aperture at which the Airy disc grows to a diameter: two pixels, or the circle of confusion.
 * @param diameterUm [µm], greater than 0
 * @param wavelengthNm [nm], 100 to 20,000; default 550
 * @returns exact f-number [1]
 * @throws DomainError outside those ranges
 * Source: as {@link airyDiameterUm}. Which diameter is the limit is a convention. Held by the golden rows `diff`.
 * @example apertureOfAiryDiameter(2 * 4.3) // 6.41
 */
export function apertureOfAiryDiameter(diameterUm: number, wavelengthNm: number = GREEN_LIGHT_NM): number {
  requirePositive("diameterUm", diameterUm, "µm");
  return diameterUm / (2 * FIRST_DARK_RING * (requireInRange("wavelengthNm", wavelengthNm, 100, 20_000, "nm") / 1000));
}
