import { RADIANS_PER_DEGREE } from "../angles";
import { ephemerisDaysSinceJ2000 } from "../delta-t";
import { requireInstant } from "../time";
import { earthOrbit, ORBIT } from "./earth-orbit";
import { EQUATOR, meanSiderealTime, nutation } from "./earth-rotation";
import { EARTH_RADIUS_KM, type Observer, type SkyPosition, toHorizontalOnce } from "./horizontal";
import type { Atmosphere } from "./refraction";

// Reda and Andreas 2008, NREL/TP-560-34302, eq. 27: aberration at the distance of 1 au
const ABERRATION_RAD = (20.4898 / 3600) * RADIANS_PER_DEGREE;
// IAU 2012, resolution B2: the astronomical unit, exact
const ASTRONOMICAL_UNIT_KM = 149_597_870.7;
/** Half the sun's apparent width that almanacs agree on for rise and set: 16′ (Nautical Almanac Office, "Rise, Set, and Twilight Definitions"). */
export const SUN_SEMIDIAMETER_DEG = 16 / 60;
/** Astronomical unit [earth radii]: the sun's parallax is 8.794″. */
const AU_EARTH_RADII = ASTRONOMICAL_UNIT_KM / EARTH_RADIUS_KM;

/**
 * Compute where the sun stands.
 * @param instantMs Unix milliseconds, years 1900 to 2100
 * @param observer latitude and longitude [deg], elevation [m]
 * @param atmosphere pressure [hPa] and temperature [°C]; default 1010 hPa (less with the elevation) and 10 °C
 * @returns azimuth, apparent and true altitude of the centre [deg]
 * @throws DomainError for an instant, an observer or an atmosphere out of range
 * Source: VSOP87 in the extract of Reda and Andreas 2008 (NREL/TP-560-34302), nutation after Meeus 1998; not suncalc's, whose places
 * are up to 0.014° off and whose altitudes below the horizon carry a constant refraction.
 * Accuracy: 0.0002° rms and 0.0006° at most over 1950 to 2050 (see the table that `npm run accuracy` prints); held against astronomy-engine
 * in tests/accuracy.
 * @example sunPosition(Date.UTC(2003, 9, 17, 19, 30, 30), { latitude: 39.742476, longitude: -105.1786 }).azimuthDeg // 194.34
 */
export function sunPosition(instantMs: number, observer: Observer, atmosphere?: Atmosphere): SkyPosition {
  requireInstant("instantMs", instantMs);
  sunPlace(instantMs);
  return toHorizontalOnce(
    SUN[0] as number,
    SUN[1] as number,
    SUN[2] as number,
    meanSiderealTime(instantMs),
    observer,
    atmosphere,
  );
}

/** Where {@link sunPlace} leaves its answer. */
export const SUN = new Float64Array(3);

/**
 * The sun's apparent geocentric place into {@link SUN} [earth radii]: toward the mean equinox on the true equator, 90° east of it, and toward
 * the celestial pole. Counted from the mean equinox, the place goes with mean sidereal time, and all that nods is in the slow part.
 */
export function sunPlace(instantMs: number): void {
  const t = ephemerisDaysSinceJ2000(instantMs) * (1 / 365_250);
  earthOrbit(t);
  const cosGeometric = ORBIT[0] as number;
  const sinGeometric = ORBIT[1] as number;
  const radiusAu = ORBIT[2] as number;
  nutation(t, cosGeometric, sinGeometric);
  const nod = EQUATOR[0] as number;
  const cosObliquity = EQUATOR[1] as number;
  const sinObliquity = EQUATOR[2] as number;
  // under 0.0002 rad, so that the angle is its own sine
  const shift = nod - ABERRATION_RAD / radiusAu;
  const distance = radiusAu * AU_EARTH_RADII;
  const x = distance * (cosGeometric - shift * sinGeometric);
  const ecliptic = distance * (sinGeometric + shift * cosGeometric);
  const y = ecliptic * cosObliquity;
  const equinoxes = nod * cosObliquity;
  SUN[0] = x + equinoxes * y;
  SUN[1] = y - equinoxes * x;
  SUN[2] = ecliptic * sinObliquity;
}
