import { interpolateRoundCompass } from "../interpolation";

/**
 * The altitude of the skyline against azimuth, as seen from one viewpoint: apparent altitudes, so terrestrial refraction is in them.
 * Between the azimuths it is read by straight lines, the last joining the first round north.
 */
export interface HorizonProfile {
  /** Degrees clockwise from true north, ascending within [0, 360), at least two. */
  readonly azimuthsDeg: readonly number[];
  /** Apparent altitude of the skyline [deg], one for each azimuth; below zero where the sea dips. */
  readonly altitudesDeg: readonly number[];
  /** Distance to the skyline [m], or null where it is not known; absent when none is known. */
  readonly distancesM?: readonly (number | null)[];
}

/**
 * Compute the apparent altitude of the skyline [deg] at an azimuth [deg], any number of turns.
 *
 * @example
 * horizonAltitudeDeg({ azimuthsDeg: [90, 270], altitudesDeg: [1, 4] }, 180) // 2.5
 */
export function horizonAltitudeDeg(profile: HorizonProfile, azimuthDeg: number): number {
  return interpolateRoundCompass(profile.azimuthsDeg, profile.altitudesDeg, azimuthDeg);
}
