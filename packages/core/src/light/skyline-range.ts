import { DomainError } from "../domain-error";
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
  let before = -1;
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < n; i++) {
    const azimuth = azimuthsDeg[i] as number;
    const altitude = altitudesDeg[i] as number;
    // a NaN fails every comparison, and so ends here too
    if (!(azimuth > before && altitude >= -90 && altitude <= 90)) refuse(i, azimuth, altitude, before);
    before = azimuth;
    if (altitude < lowest) lowest = altitude;
    if (altitude > highest) highest = altitude;
  }
  const first = azimuthsDeg[0] as number;
  if (first < 0) refuse(0, first, lowest, before);
  if (before >= 360) refuse(n - 1, before, lowest, before);
  return [lowest, highest];
}

function refuse(i: number, azimuth: number, altitude: number, before: number): never {
  if (azimuth > before && azimuth >= 0 && azimuth < 360) {
    throw new DomainError({
      param: `profile.altitudesDeg.${i}`,
      given: altitude,
      allowed: "a finite number from -90 to 90",
      unit: "deg",
    });
  }
  throw new DomainError({
    param: `profile.azimuthsDeg.${i}`,
    given: azimuth,
    allowed: "azimuths ascending within 0 to 360, 360 itself not",
    unit: "deg",
  });
}
