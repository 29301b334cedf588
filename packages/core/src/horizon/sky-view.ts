import { sinDeg, wrap360 } from "../angles";
import type { HorizonProfile } from "./profile";

/**
 * Compute how much of the sky's diffuse light reaches level ground under this skyline: 1 under an open sky, 0 in a shaft. Each direction
 * counts by the sine of its altitude, as it does for a level surface under an even sky.
 *
 * @param profile the skyline; below zero it takes nothing away
 * @returns sky view factor, 0 to 1
 *
 * Source: Steyn 1980, Atmosphere-Ocean 18:254, and Dozier & Frew 1990, IEEE Trans. Geosci. Remote Sens. 28:963, for a level
 * surface: the mean over azimuth of cos² of the horizon's altitude. Accuracy: exact for skylines drawn by straight lines between
 * the azimuths; held by tests/core/horizon/profile.spec.ts.
 * @example
 * skyViewFactor({ azimuthsDeg: [0, 180], altitudesDeg: [30, 30] }) // 0.75
 */
export function skyViewFactor(profile: HorizonProfile): number {
  const { azimuthsDeg, altitudesDeg } = profile;
  const count = azimuthsDeg.length;
  let blocked = 0;
  for (let i = 0; i < count; i++) {
    const next = i + 1 === count ? 0 : i + 1;
    const span = wrap360((azimuthsDeg[next] as number) - (azimuthsDeg[i] as number)) || (count === 1 ? 360 : 0);
    blocked += span * meanSinSquared(altitudesDeg[i] as number, altitudesDeg[next] as number);
  }
  return Math.min(1, Math.max(0, 1 - blocked / 360));
}

/** Mean of sin² along a straight line from one altitude to another [deg], taking what is below zero as zero. */
function meanSinSquared(fromDeg: number, toDeg: number): number {
  const low = Math.min(fromDeg, toDeg);
  const high = Math.max(fromDeg, toDeg);
  if (high <= 0) return 0;
  if (low < 0) return (meanSinSquared(0, high) * high) / (high - low);
  const difference = high - low;
  // where the line is all but level the closed form loses its digits and the middle has them
  if (difference < 1e-3) return sinDeg((low + high) / 2) ** 2;
  // the integral of sin²x is x/2 − sin(2x)/4
  const radians = (difference * Math.PI) / 180;
  return 0.5 - (sinDeg(2 * high) - sinDeg(2 * low)) / (4 * radians);
}
