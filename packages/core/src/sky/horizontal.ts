import { RADIANS_PER_DEGREE } from "../angles";
import { requireInRange } from "../domain-error";
import { type Atmosphere, airFactor, standardRefractionDeg } from "./refraction";
import { PAIR, sincos } from "./sincos";

/** Where someone stands. */
export interface Observer {
  /** WGS 84 [deg], -90 to 90. */
  readonly latitude: number;
  /** WGS 84 [deg], -180 to 180. */
  readonly longitude: number;
  /** Above mean sea level [m], -500 to 9000; default 0. It thins the air that refracts, and moves the moon by its parallax. */
  readonly elevationM?: number | undefined;
}

/** Where a body stands for an observer. */
export interface SkyPosition {
  /** Degrees clockwise from true north, 0 to 360. */
  readonly azimuthDeg: number;
  /**
   * Apparent altitude of the centre [deg]: refraction is in it. Below a true altitude of -1 the refraction of -1 is held (0.65 in usual air), so that
   * altitudes go on evenly and in order; nobody sees a body there, and what asks how far it is below the horizon asks for `trueAltitudeDeg`.
   */
  readonly altitudeDeg: number;
  /** Airless altitude of the centre, seen from the place [deg]. */
  readonly trueAltitudeDeg: number;
}

/** An observer's place in a form that positions are quickly computed from. */
export interface Site {
  readonly longitudeRad: number;
  readonly sinLatitude: number;
  readonly cosLatitude: number;
  /** The observer's own place, from the earth's axis and above the plane of the equator [earth radii]. */
  readonly fromAxis: number;
  readonly fromEquator: number;
  /** Density of the air against the standard. */
  readonly air: number;
}

// WGS 84 (NIMA TR8350.2): equatorial radius and flattening
export const EARTH_RADIUS_KM = 6378.137;
const FLATTENING = 1 / 298.257223563;
/** Square of the ratio of the polar to the equatorial radius. */
const POLAR_RATIO_SQUARED = (1 - FLATTENING) ** 2;

/** @throws DomainError for an observer or an atmosphere out of range */
export function siteOf(observer: Observer, atmosphere?: Atmosphere): Site {
  const { latitude, longitude, elevationM = 0 } = observer;
  requireObserver(observer);
  const sinLatitude = Math.sin(latitude * RADIANS_PER_DEGREE);
  const cosLatitude = Math.cos(latitude * RADIANS_PER_DEGREE);
  const c = primeVertical(sinLatitude);
  const height = heightInRadii(elevationM);
  return {
    longitudeRad: longitude * RADIANS_PER_DEGREE,
    sinLatitude,
    cosLatitude,
    fromAxis: (c + height) * cosLatitude,
    fromEquator: (c * POLAR_RATIO_SQUARED + height) * sinLatitude,
    air: airFactor(atmosphere, elevationM),
  };
}

/**
 * The altitude and azimuth of a body at a geocentric place [earth radii; x to the equinox, z to the pole] when the sidereal time at
 * Greenwich is `siderealRad`. Parallax is exact: the observer's own place is taken off.
 */
export function toHorizontal(x: number, y: number, z: number, siderealRad: number, site: Site): SkyPosition {
  return horizontal(
    x,
    y,
    z,
    siderealRad + site.longitudeRad,
    site.sinLatitude,
    site.cosLatitude,
    site.fromAxis,
    site.fromEquator,
    site.air,
  );
}

/** The sine of the true altitude that {@link toHorizontal} gives, for searches that ask for nothing else: at a third of the cost. */
export function altitudeSine(x: number, y: number, z: number, siderealRad: number, site: Site): number {
  sincos(siderealRad + site.longitudeRad);
  const cosTurn = PAIR[0] as number;
  const sinTurn = PAIR[1] as number;
  const towardMeridian = x * cosTurn + y * sinTurn - site.fromAxis;
  const east = y * cosTurn - x * sinTurn;
  const towardPole = z - site.fromEquator;
  const up = site.sinLatitude * towardPole + site.cosLatitude * towardMeridian;
  return up / Math.sqrt(towardPole * towardPole + towardMeridian * towardMeridian + east * east);
}

/** As {@link toHorizontal} after {@link siteOf}, for one position and without anything made on the way to it. */
export function toHorizontalOnce(
  x: number,
  y: number,
  z: number,
  siderealRad: number,
  observer: Observer,
  atmosphere: Atmosphere | undefined,
): SkyPosition {
  const { latitude, longitude, elevationM = 0 } = observer;
  requireObserver(observer);
  sincos(latitude * RADIANS_PER_DEGREE);
  const cosLatitude = PAIR[0] as number;
  const sinLatitude = PAIR[1] as number;
  const c = primeVertical(sinLatitude);
  const height = heightInRadii(elevationM);
  return horizontal(
    x,
    y,
    z,
    siderealRad + longitude * RADIANS_PER_DEGREE,
    sinLatitude,
    cosLatitude,
    (c + height) * cosLatitude,
    (c * POLAR_RATIO_SQUARED + height) * sinLatitude,
    atmosphere === undefined && elevationM === 0 ? 1 : airFactor(atmosphere, elevationM),
  );
}

function requireObserver({ latitude, longitude, elevationM = 0 }: Observer): void {
  requireInRange("latitude", latitude, -90, 90, "deg");
  requireInRange("longitude", longitude, -180, 180, "deg");
  requireInRange("elevationM", elevationM, -500, 9000, "m");
}

// Explanatory Supplement to the Astronomical Almanac 1992, eq. 4.22-7: from geodetic latitude to a geocentric place
function primeVertical(sinLatitude: number): number {
  return 1 / Math.sqrt(1 - (1 - POLAR_RATIO_SQUARED) * sinLatitude * sinLatitude);
}

function heightInRadii(elevationM: number): number {
  return elevationM * (1 / (EARTH_RADIUS_KM * 1000));
}

function horizontal(
  x: number,
  y: number,
  z: number,
  turnRad: number,
  sinLatitude: number,
  cosLatitude: number,
  fromAxis: number,
  fromEquator: number,
  air: number,
): SkyPosition {
  sincos(turnRad);
  const cosTurn = PAIR[0] as number;
  const sinTurn = PAIR[1] as number;
  const towardMeridian = x * cosTurn + y * sinTurn - fromAxis;
  const east = y * cosTurn - x * sinTurn;
  const towardPole = z - fromEquator;
  const north = cosLatitude * towardPole - sinLatitude * towardMeridian;
  const up = sinLatitude * towardPole + cosLatitude * towardMeridian;
  const sine = up / Math.sqrt(up * up + north * north + east * east);
  const trueAltitudeDeg = Math.asin(sine > 1 ? 1 : sine < -1 ? -1 : sine) * (1 / RADIANS_PER_DEGREE);
  const azimuth = Math.atan2(east, north) * (1 / RADIANS_PER_DEGREE);
  const positive = azimuth < 0 ? azimuth + 360 : azimuth;
  const apparent = trueAltitudeDeg + standardRefractionDeg(trueAltitudeDeg) * air;
  return {
    // a hair west of north rounds up to a full turn
    azimuthDeg: positive >= 360 ? 0 : positive,
    altitudeDeg: apparent > 90 ? 90 : apparent,
    trueAltitudeDeg,
  };
}
