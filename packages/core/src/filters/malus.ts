import { cosDeg } from "../angles";
import { requireInRange } from "../domain-error";

/**
 * Compute the share of partly polarized light that an ideal polarizer passes.
 * @param degree degree of polarization [1], 0 to 1
 * @param apartDeg between the filter's axis and the way the light swings [deg], -180 to 180
 * @returns half of unpolarized light, whatever the rotation
 * @throws DomainError outside those ranges
 * Source: Malus's law, T = ½(1 + p·cos 2θ); from memory. Held by the golden rows `pol`, 1e-6.
 * @example polarizerTransmittance(0.8, 90) // 0.1
 */
export function polarizerTransmittance(degree: number, apartDeg: number): number {
  requireInRange("degree", degree, 0, 1);
  requireInRange("apartDeg", apartDeg, -180, 180, "deg");
  return (1 + degree * cosDeg(2 * apartDeg)) / 2;
}
