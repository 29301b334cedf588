import { requireInRange } from "../domain-error";

// The Nautical Almanac: dip = 1.758′·√h, refraction in it
const DIP_DEG_PER_SQRT_M = 1.758 / 60;

/**
 * Compute the dip of the horizon: how far the sea horizon lies below the level for an eye at a height above the sea.
 * @param heightAboveSeaM [m], -500 to 10,000; at or below the sea there is no dip
 * @returns [deg], 0 or more
 * @throws DomainError outside that range
 * Source: The Nautical Almanac, 1.758′·√h, with refraction in it. Held in tests/core/almanac/dip.spec.ts.
 * @example dipDeg(100) // 0.293
 */
export function dipDeg(heightAboveSeaM: number): number {
  requireInRange("heightAboveSeaM", heightAboveSeaM, -500, 10_000, "m");
  return heightAboveSeaM > 0 ? DIP_DEG_PER_SQRT_M * Math.sqrt(heightAboveSeaM) : 0;
}
