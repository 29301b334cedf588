import { DomainError, requireInRange } from "../domain-error";
import type { HorizonProfile } from "../horizon/profile";

/**
 * The lowest and the highest altitude of a skyline [deg].
 * @throws DomainError for a profile that cannot be read: fewer than two nodes, azimuths that do not ascend within [0, 360), altitudes not within ±90
 */
export function skylineRange({ azimuthsDeg, altitudesDeg }: HorizonProfile): readonly [number, number] {
  const n = azimuthsDeg.length;
  if (n < 2 || altitudesDeg.length !== n) {
    throw new DomainError({
      param: "profile",
      given: `${n} azimuths, ${altitudesDeg.length} altitudes`,
      allowed: "at least two azimuths and an altitude for each",
    });
  }
  let before = Number.NEGATIVE_INFINITY;
  let lowest = 90;
  let highest = -90;
  for (let i = 0; i < n; i++) {
    const azimuth = azimuthsDeg[i] as number;
    const altitude = altitudesDeg[i] as number;
    if (!(azimuth > before && azimuth >= 0 && azimuth < 360)) {
      throw new DomainError({
        param: `profile.azimuthsDeg.${i}`,
        given: azimuth,
        allowed: "azimuths ascending within 0 to 360, 360 itself not",
        unit: "deg",
      });
    }
    if (!(altitude >= -90 && altitude <= 90)) requireInRange(`profile.altitudesDeg.${i}`, altitude, -90, 90, "deg");
    before = azimuth;
    if (altitude < lowest) lowest = altitude;
    if (altitude > highest) highest = altitude;
  }
  return [lowest, highest];
}
