import { RADIANS_PER_DEGREE } from "../angles";
import { requireInRange } from "../domain-error";
import { type Atmosphere, airFactor, standardRefractionDeg } from "./refraction";

/** Where someone stands. */
export interface Observer {
  /** WGS 84 [deg], -90 to 90. */
  readonly latitude: number;
  /** WGS 84 [deg], -180 to 180. */
  readonly longitude: number;
  /** Above mean sea level [m], -500 to 9000; default 0. It matters for the moon's parallax only. */
  readonly elevationM?: number;
}

/** Where a body stands for an observer. */
export interface SkyPosition {
  /** Degrees clockwise from true north, 0 to 360. */
  readonly azimuthDeg: number;
  /** Apparent altitude of the centre [deg]: refraction is in it. */
  readonly altitudeDeg: number;
  /** Airless altitude of the centre, seen from the place [deg]. */
  readonly trueAltitudeDeg: number;
}

/** An observer's place in a form that positions are quickly computed from. */
export interface Site {
  readonly longitudeRad: number;
  readonly sinLatitude: number;
  readonly cosLatitude: number;
  /** The observer's own place on his vertical and meridian, from the earth's centre [earth radii]. */
  readonly up: number;
  readonly north: number;
  /** Density of the air against the standard. */
  readonly air: number;
}

// WGS 84 (NIMA TR8350.2): equatorial radius and flattening
export const EARTH_RADIUS_KM = 6378.137;
const FLATTENING = 1 / 298.257223563;

/** @throws DomainError for an observer or an atmosphere out of range */
export function siteOf({ latitude, longitude, elevationM = 0 }: Observer, atmosphere?: Atmosphere): Site {
  requireInRange("latitude", latitude, -90, 90, "deg");
  requireInRange("longitude", longitude, -180, 180, "deg");
  requireInRange("elevationM", elevationM, -500, 9000, "m");
  const sinLatitude = Math.sin(latitude * RADIANS_PER_DEGREE);
  const cosLatitude = Math.cos(latitude * RADIANS_PER_DEGREE);
  // Explanatory Supplement to the Astronomical Almanac 1992, eq. 4.22-7: geocentric place of a geodetic one
  const square = (1 - FLATTENING) ** 2;
  const c = 1 / Math.sqrt(cosLatitude * cosLatitude + square * sinLatitude * sinLatitude);
  const height = elevationM / 1000 / EARTH_RADIUS_KM;
  const fromAxis = (c + height) * cosLatitude;
  const fromEquator = (c * square + height) * sinLatitude;
  return {
    longitudeRad: longitude * RADIANS_PER_DEGREE,
    sinLatitude,
    cosLatitude,
    up: fromAxis * cosLatitude + fromEquator * sinLatitude,
    north: fromEquator * cosLatitude - fromAxis * sinLatitude,
    air: atmosphere === undefined ? 1 : airFactor(atmosphere),
  };
}

/**
 * The altitude and azimuth of a body at a geocentric place [earth radii; x to the equinox, z to the pole] when the sidereal time at
 * Greenwich is `siderealRad`. Parallax is exact: the observer's own place is taken off.
 */
export function toHorizontal(x: number, y: number, z: number, siderealRad: number, site: Site): SkyPosition {
  const angle = siderealRad + site.longitudeRad;
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  const towardMeridian = x * cos + y * sin;
  const east = y * cos - x * sin;
  const north = site.cosLatitude * z - site.sinLatitude * towardMeridian - site.north;
  const up = site.sinLatitude * z + site.cosLatitude * towardMeridian - site.up;
  const trueAltitudeDeg = Math.atan2(up, Math.sqrt(east * east + north * north)) / RADIANS_PER_DEGREE;
  const azimuth = Math.atan2(east, north) / RADIANS_PER_DEGREE;
  const apparent = trueAltitudeDeg + standardRefractionDeg(trueAltitudeDeg) * site.air;
  return {
    azimuthDeg: azimuth < 0 ? azimuth + 360 : azimuth,
    altitudeDeg: apparent > 90 ? 90 : apparent,
    trueAltitudeDeg,
  };
}
