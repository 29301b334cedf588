import { asinDeg, atan2Deg, RADIANS_PER_DEGREE, sinDeg, wrap360 } from "../angles";
import { ephemerisDaysSinceJ2000 } from "../delta-t";
import { requireInstant } from "../time";
import { EQUATOR, meanSiderealTime, nutation } from "./earth-rotation";
import { EARTH_RADIUS_KM, type Observer, type SkyPosition, toHorizontalOnce } from "./horizontal";
import { MOON_ORBIT, moonOrbit } from "./moon-orbit";
import type { Atmosphere } from "./refraction";
import { PAIR, sincos } from "./sincos";
import { SUN, sunPlace } from "./sun";

export type MoonPhaseName =
  | "new-moon"
  | "waxing-crescent"
  | "first-quarter"
  | "waxing-gibbous"
  | "full-moon"
  | "waning-gibbous"
  | "last-quarter"
  | "waning-crescent";

export interface MoonPosition extends SkyPosition {
  /** From the earth's centre to the moon's [km]. */
  readonly distanceKm: number;
  /** Half the apparent diameter of the disc, seen from the place [deg]. */
  readonly semidiameterDeg: number;
}

export interface MoonPhase {
  /** Part of the disc that is lit, 0 to 1. */
  readonly illuminatedFraction: number;
  /** Round of the phases, 0 to 1: 0 new, 0.25 first quarter, 0.5 full, 0.75 last quarter. */
  readonly phase: number;
  readonly phaseName: MoonPhaseName;
  /** Angle between sun and earth as seen from the moon [deg]: 0 at full, 180 at new. */
  readonly phaseAngleDeg: number;
}

// IAU 1982 (Astronomical Almanac): radius of the moon over that of the earth
const MOON_RADIUS_RATIO = 0.2725076;

/**
 * Compute where the moon stands.
 * @param instantMs Unix milliseconds, years 1900 to 2100
 * @param observer latitude and longitude [deg], elevation [m]
 * @param atmosphere pressure [hPa] and temperature [°C]; default 1010 hPa (less with the elevation) and 10 °C
 * @returns azimuth, apparent and true altitude of the centre as seen from the place [deg], distance [km], semidiameter [deg]
 * @throws DomainError for an instant, an observer or an atmosphere out of range
 * Source: Meeus 1998, Astronomical Algorithms, ch. 47 (ELP-2000/82, truncated), nutation and ΔT as for the sun, parallax on the ellipsoid.
 * suncalc sums the same table, but gives only altitudes with its own refraction and a spherical parallax in them, at a third of the speed.
 * Accuracy: 0.001° rms and 0.005° at most (see the table that `npm run accuracy` prints); held against astronomy-engine in tests/accuracy.
 * @example moonPosition(Date.UTC(2027, 2, 20, 22), { latitude: 56.6, longitude: -9.4 }).distanceKm // 368,133
 */
export function moonPosition(instantMs: number, observer: Observer, atmosphere?: Atmosphere): MoonPosition {
  requireInstant("instantMs", instantMs);
  moonPlace(instantMs);
  const x = MOON[0] as number;
  const y = MOON[1] as number;
  const z = MOON[2] as number;
  const position = toHorizontalOnce(x, y, z, meanSiderealTime(instantMs), observer, atmosphere);
  return withMoonDisc(position, Math.sqrt(x * x + y * y + z * z));
}

/** A position of the moon with its distance, given in earth radii, and the size that its disc has there. */
export function withMoonDisc(position: SkyPosition, distanceRadii: number): MoonPosition {
  const { azimuthDeg, altitudeDeg, trueAltitudeDeg } = position;
  // the triangle of earth's centre, place and moon: the higher the moon, the nearer the place is to it
  const sine = sinDeg(trueAltitudeDeg);
  const fromPlace = Math.sqrt(distanceRadii * distanceRadii - 1 + sine * sine) - sine;
  return {
    azimuthDeg,
    altitudeDeg,
    trueAltitudeDeg,
    distanceKm: distanceRadii * EARTH_RADIUS_KM,
    semidiameterDeg: asinDeg(MOON_RADIUS_RATIO / fromPlace),
  };
}

/** Compute half the apparent diameter of the moon's disc [deg] at a distance [km]. */
export function moonSemidiameterDeg(distanceKm: number): number {
  return asinDeg((MOON_RADIUS_RATIO * EARTH_RADIUS_KM) / distanceKm);
}

/**
 * Compute how much of the moon is lit, and where in its round it is.
 * @param instantMs Unix milliseconds, years 1900 to 2100
 * @returns lit fraction 0 to 1, phase 0 to 1 by the difference of ecliptic longitudes that almanacs time phases by, its name, phase angle [deg]
 * @throws DomainError for an instant out of range
 * Source: Meeus 1998, ch. 48, from the places of {@link moonPosition} and `sunPosition`. Accuracy: 0.0001 in the fraction, half a minute in
 * the instants of the phases; held in tests/accuracy and by the golden rows `usno.phase`.
 * @example moonPhase(Date.UTC(2027, 2, 22, 10, 44)).phaseName // "full-moon"
 */
export function moonPhase(instantMs: number): MoonPhase {
  requireInstant("instantMs", instantMs);
  sunPlace(instantMs);
  const sunX = SUN[0] as number;
  const sunY = SUN[1] as number;
  const sunZ = SUN[2] as number;
  moonPlace(instantMs);
  const x = MOON[0] as number;
  const y = MOON[1] as number;
  const z = MOON[2] as number;
  const cosObliquity = EQUATOR[1] as number;
  const sinObliquity = EQUATOR[2] as number;

  // at the moon: the angle between the ways to the earth and to the sun
  const toSunX = sunX - x;
  const toSunY = sunY - y;
  const toSunZ = sunZ - z;
  const along = -(x * toSunX + y * toSunY + z * toSunZ);
  const acrossX = y * toSunZ - z * toSunY;
  const acrossY = z * toSunX - x * toSunZ;
  const acrossZ = x * toSunY - y * toSunX;
  const across = Math.sqrt(acrossX * acrossX + acrossY * acrossY + acrossZ * acrossZ);
  const phaseAngleDeg = atan2Deg(across, along);

  const moonLongitude = atan2Deg(y * cosObliquity + z * sinObliquity, x);
  const sunLongitude = atan2Deg(sunY * cosObliquity + sunZ * sinObliquity, sunX);
  const phase = wrap360(moonLongitude - sunLongitude) / 360;
  return {
    illuminatedFraction: (1 + along / Math.sqrt(along * along + across * across)) / 2,
    phase,
    phaseName: phaseNameOf(phase),
    phaseAngleDeg,
  };
}

// Common practice: the four principal phases are instants; here each names the twelve hours or so on either side (1/60 of a round)
const PRINCIPAL_HALF_WIDTH = 1 / 60;
const PHASE_NAMES: readonly MoonPhaseName[] = [
  "new-moon",
  "waxing-crescent",
  "first-quarter",
  "waxing-gibbous",
  "full-moon",
  "waning-gibbous",
  "last-quarter",
  "waning-crescent",
];

function phaseNameOf(phase: number): MoonPhaseName {
  const quarter = Math.round(phase * 4);
  const near = Math.abs(phase * 4 - quarter) / 4 <= PRINCIPAL_HALF_WIDTH;
  const index = near ? (quarter % 4) * 2 : Math.floor(phase * 4) * 2 + 1;
  return PHASE_NAMES[index % 8] as MoonPhaseName;
}

/** Where {@link moonPlace} leaves its answer. */
export const MOON = new Float64Array(3);

/** The moon's apparent geocentric place into {@link MOON} [earth radii], along the axes of {@link sunPlace}. */
export function moonPlace(instantMs: number): void {
  const centuries = ephemerisDaysSinceJ2000(instantMs) * (1 / 36525);
  moonOrbit(centuries);
  // Meeus 1998, ch. 22: the sun's mean longitude
  sincos(RADIANS_PER_DEGREE * (280.4665 + 36000.7698 * centuries));
  nutation(centuries / 10, PAIR[0] as number, PAIR[1] as number);
  const nod = EQUATOR[0] as number;
  const cosObliquity = EQUATOR[1] as number;
  const sinObliquity = EQUATOR[2] as number;
  const distance = (MOON_ORBIT[2] as number) / EARTH_RADIUS_KM;
  sincos(MOON_ORBIT[1] as number);
  const level = distance * (PAIR[0] as number);
  const high = distance * (PAIR[1] as number);
  sincos((MOON_ORBIT[0] as number) + nod);
  const x = level * (PAIR[0] as number);
  const ecliptic = level * (PAIR[1] as number);
  const y = ecliptic * cosObliquity - high * sinObliquity;
  const equinoxes = nod * cosObliquity;
  MOON[0] = x + equinoxes * y;
  MOON[1] = y - equinoxes * x;
  MOON[2] = ecliptic * sinObliquity + high * cosObliquity;
}
