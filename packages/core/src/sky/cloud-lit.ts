import { acosDeg, RADIANS_PER_DEGREE } from "../angles";
import { requireInRange } from "../domain-error";
import { HORIZON_REFRACTION_DEG } from "./refraction";
import { SUN_SEMIDIAMETER_DEG } from "./sun";

// WMO International Cloud Atlas (2017): low cloud below 2 km, middle 2 to 7 km, high 5 to 13 km in temperate latitudes; these are our middles
export const CLOUD_DECK_HEIGHTS_M = { low: 1000, middle: 4000, high: 9000 } as const;

// IUGG mean radius of the earth, as throughout for horizons; scale height of the air: US Standard Atmosphere 1976, 8.4 km
const EARTH_RADIUS_M = 6_371_008.8;
const AIR_SCALE_HEIGHT_M = 8400;

/**
 * Compute how low the sun may stand and still strike a cloud: its true altitude at the observer when the last ray over the sea horizon reaches the cloud.
 * The ray grazes the earth, bent on its way in as at any sunset, and again on its way out to the cloud by the share of the air below it.
 * @param heightM of the cloud above the sea [m], 0 to 20,000
 * @param towardSunM how far from the observer toward the sun the cloud stands [m], 0 to 500,000; 0 is overhead
 * @returns true altitude of the sun's centre at the observer [deg], below zero
 * @throws DomainError outside those ranges
 * Source: geometry of the sphere, dip acos(R/(R + h)); refraction 34′ and semidiameter 16′ (Nautical Almanac Office). Guidance only: terrain
 * and farther cloud in the sun's way end it sooner. Held in tests/core/sky/cloud-lit.spec.ts.
 * @example cloudLitDownToDeg(4000) // -3.1
 */
export function cloudLitDownToDeg(heightM: number, towardSunM = 0): number {
  requireInRange("heightM", heightM, 0, 20_000, "m");
  requireInRange("towardSunM", towardSunM, 0, 500_000, "m");
  const dip = acosDeg(EARTH_RADIUS_M / (EARTH_RADIUS_M + heightM));
  const bentOnTheWayOut = HORIZON_REFRACTION_DEG * (1 - Math.exp(-heightM / AIR_SCALE_HEIGHT_M));
  const nearerTheSun = towardSunM / EARTH_RADIUS_M / RADIANS_PER_DEGREE;
  return -(dip + HORIZON_REFRACTION_DEG + bentOnTheWayOut + SUN_SEMIDIAMETER_DEG + nearerTheSun);
}
