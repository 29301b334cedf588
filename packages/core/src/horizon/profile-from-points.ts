import { DomainError, requireInRange } from "../domain-error";
import type { HorizonProfile } from "./profile";

/** One reading of the skyline: by compass and clinometer, from a map, or computed. */
export interface HorizonPoint {
  /** Degrees clockwise from true north, 0 to 360; 360 is north, as 0 is. */
  readonly azimuthDeg: number;
  /** Apparent altitude of the skyline [deg], -90 to 90. */
  readonly altitudeDeg: number;
  /** Distance to the skyline [m], where it is known. */
  readonly distanceM?: number | undefined;
}

/** The most readings that one profile may hold: one for each 0.05°. */
export const MAX_HORIZON_POINTS = 7200;

/**
 * Make the profile of a skyline from readings in any order; between them the skyline runs in straight lines, the last joining the
 * first round north.
 *
 * @param points 2 to 7200 readings, no two at the same azimuth
 * @returns the profile, its azimuths ascending [deg]
 * @throws DomainError naming `points`, or the reading and its field: `points.3.azimuthDeg`
 * @example
 * horizonProfileFromPoints([{ azimuthDeg: 270, altitudeDeg: 4 }, { azimuthDeg: 90, altitudeDeg: 1 }])
 * // { azimuthsDeg: [90, 270], altitudesDeg: [1, 4] }
 */
export function horizonProfileFromPoints(points: readonly HorizonPoint[]): HorizonProfile {
  if (points.length < 2 || points.length > MAX_HORIZON_POINTS) {
    throw new DomainError({ param: "points", given: points.length, allowed: `2 to ${MAX_HORIZON_POINTS} readings` });
  }
  const readings = points.map(checked);
  readings.sort((a, b) => a.azimuthDeg - b.azimuthDeg || a.index - b.index);
  readings.forEach((reading, i) => {
    if (i > 0 && readings[i - 1]?.azimuthDeg === reading.azimuthDeg) {
      throw new DomainError({
        param: `points.${reading.index}.azimuthDeg`,
        given: points[reading.index]?.azimuthDeg,
        allowed: "an azimuth that no other reading has",
      });
    }
  });
  const profile: HorizonProfile = {
    azimuthsDeg: readings.map((reading) => reading.azimuthDeg),
    altitudesDeg: readings.map((reading) => reading.altitudeDeg),
  };
  if (readings.every((reading) => reading.distanceM === null)) return profile;
  return Object.assign(profile, { distancesM: readings.map((reading) => reading.distanceM) });
}

function checked(point: HorizonPoint, index: number) {
  const at = `points.${index}`;
  const azimuth = requireInRange(`${at}.azimuthDeg`, point.azimuthDeg, 0, 360, "deg");
  const altitude = requireInRange(`${at}.altitudeDeg`, point.altitudeDeg, -90, 90, "deg");
  const distanceM = point.distanceM;
  return {
    index,
    // adding zero makes -0 plain
    azimuthDeg: azimuth === 360 ? 0 : azimuth + 0,
    altitudeDeg: altitude + 0,
    distanceM:
      distanceM === undefined ? null : requireInRange(`${at}.distanceM`, distanceM, 0, Number.POSITIVE_INFINITY, "m"),
  };
}
