import { HORIZON_REFRACTION_DEG } from "../sky/refraction";
import type { MoonTrack } from "../sky/track";
import { skyCourse } from "./course";
import { dipDeg } from "./dip";
import { type AltitudeCrossings, crossingsBetween } from "./rise-set";

/**
 * Find moonrise and moonset: when the moon's upper limb stands on the sea horizon. Unlike the sun's, its semidiameter changes with its
 * distance, so it is taken anew at each instant.
 * @param moon the moon's track over the span
 * @param startMs first instant [Unix ms]
 * @param endMs end of the span [Unix ms]
 * @param heightAboveSeaM height of the eye above the sea [m], -500 to 10,000, for the dip
 * @returns the crossings in order, rising or falling, or on which side of the horizon the moon stays
 * @throws DomainError for a height out of range
 * Source: Nautical Almanac Office, "Rise, Set, and Twilight Definitions". Accuracy: 2 s, as `dayEvents`.
 */
export function moonriseAndMoonset(
  moon: MoonTrack,
  startMs: number,
  endMs: number,
  heightAboveSeaM: number,
): AltitudeCrossings {
  const lift = HORIZON_REFRACTION_DEG + dipDeg(heightAboveSeaM);
  const upperLimbDeg = (ms: number): number => {
    const { trueAltitudeDeg, semidiameterDeg } = moon(ms);
    return trueAltitudeDeg + semidiameterDeg + lift;
  };
  return crossingsBetween(upperLimbDeg, skyCourse(moon, startMs, endMs).cuts);
}
