import { getMoonIllumination, getMoonPosition } from "suncalc";
import { asinDeg, cosDeg, RADIANS_PER_DEGREE, sinDeg } from "../angles";
import { daysSinceJ2000, deltaTSeconds } from "../time";
import { meanSiderealTime, nutation } from "./earth-rotation";
import { EARTH_RADIUS_KM, type Observer, type SkyPosition, siteOf, toHorizontal } from "./horizontal";
import type { Atmosphere } from "./refraction";

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
  /** Half the apparent diameter of the disc, seen from the earth's centre [deg]. */
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

/** The moon's apparent geocentric place, in the frame of {@link SunPlace} [earth radii]. */
export interface MoonPlace {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly siderealRad: number;
  readonly distanceKm: number;
}

// suncalc 2.0.2 lifts altitudes by its own refraction, in radians; at and below the horizon by the value at the horizon
const SUNCALC_REFRACTION = [0.0002967, 0.00312536, 0.08901179] as const;
const SUNCALC_EARTH_RADIUS_KM = 6378.14;
// IAU 1982 (Astronomical Almanac): radius of the moon over that of the earth
const MOON_RADIUS_RATIO = 0.2725076;

/**
 * Where the moon stands.
 * @param instantMs Unix milliseconds, years 1900 to 2100
 * @param observer latitude and longitude [deg], elevation [m]
 * @param atmosphere pressure [hPa] and temperature [°C]; default 1010 hPa, 10 °C
 * @returns azimuth, apparent and true altitude of the centre as seen from the place [deg], distance [km], semidiameter [deg]
 * @throws DomainError for an observer or an atmosphere out of range
 * Source: suncalc (Meeus 1998, ch. 47) for the geocentric place; equation of the equinoxes, parallax on the ellipsoid and refraction
 * are ours. Accuracy: see the table that `npm run accuracy` prints; held against astronomy-engine in tests/accuracy.
 * @example moonPosition(Date.UTC(2027, 2, 20, 22), { latitude: 56.6, longitude: -9.4 }).distanceKm
 */
export function moonPosition(instantMs: number, observer: Observer, atmosphere?: Atmosphere): MoonPosition {
  const { x, y, z, siderealRad, distanceKm } = moonPlace(instantMs);
  const position = toHorizontal(x, y, z, siderealRad, siteOf(observer, atmosphere));
  return { ...position, distanceKm, semidiameterDeg: moonSemidiameterDeg(distanceKm) };
}

/** Half the apparent diameter of the moon's disc at a distance [km]. */
export function moonSemidiameterDeg(distanceKm: number): number {
  return asinDeg((MOON_RADIUS_RATIO * EARTH_RADIUS_KM) / distanceKm);
}

/**
 * How much of the moon is lit, and where in its round it is.
 * Source: suncalc (Meeus 1998, ch. 48). Accuracy of the fraction: within 0.005, held in tests/accuracy.
 * @example moonPhase(Date.UTC(2027, 2, 22, 10, 44)).phaseName // "full-moon"
 */
export function moonPhase(instantMs: number): MoonPhase {
  const { fraction, phase } = getMoonIllumination(new Date(instantMs));
  const phaseAngleDeg = Math.acos(Math.min(1, Math.max(-1, 2 * fraction - 1))) / RADIANS_PER_DEGREE;
  return { illuminatedFraction: fraction, phase, phaseName: phaseNameOf(phase), phaseAngleDeg };
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

/**
 * The moon's geocentric place. suncalc gives places as seen from the ground; from the north pole the altitude is the declination
 * less the parallax plus refraction, and the azimuth is the hour angle, so that all three can be taken off exactly.
 */
export function moonPlace(instantMs: number): MoonPlace {
  const { altitude, azimuth, distance } = getMoonPosition(new Date(instantMs), 90, 0);
  const declination = withoutParallax(withoutSuncalcRefraction(altitude * RADIANS_PER_DEGREE), distance);
  const days = daysSinceJ2000(instantMs);
  // suncalc's sidereal time, from which its hour angle (azimuth - 180°) was taken
  const suncalcSidereal = (280.46061837 + 360.98564736629 * days) % 360;
  const rightAscension = (suncalcSidereal - (azimuth - 180)) % 360;
  const distanceRadii = distance / EARTH_RADIUS_KM;
  const level = Math.cos(declination) * distanceRadii;
  const { longitudeRad, obliquityRad } = nutation((days + deltaTSeconds(instantMs) / 86400) / 36525);
  return {
    x: level * cosDeg(rightAscension),
    y: level * sinDeg(rightAscension),
    z: Math.sin(declination) * distanceRadii,
    siderealRad: meanSiderealTime(days) + longitudeRad * Math.cos(obliquityRad),
    distanceKm: distance,
  };
}

function withoutSuncalcRefraction(apparentRad: number): number {
  const [scale, a, b] = SUNCALC_REFRACTION;
  const lift = (h: number): number => scale / Math.tan(Math.max(h, 0) + a / (Math.max(h, 0) + b));
  let h = apparentRad - lift(apparentRad);
  for (let i = 0; i < 30; i++) {
    const next = apparentRad - lift(h);
    if (Math.abs(next - h) < 1e-13) return next;
    h = next;
  }
  return h;
}

/** From h = g - asin(r/d · cos g): the triangle of pole, earth's centre and moon, seen from the pole. */
function withoutParallax(altitudeRad: number, distanceKm: number): number {
  const ratio = SUNCALC_EARTH_RADIUS_KM / distanceKm;
  let g = altitudeRad;
  for (let i = 0; i < 30; i++) {
    const next = altitudeRad + Math.asin(ratio * Math.cos(g));
    if (Math.abs(next - g) < 1e-13) return next;
    g = next;
  }
  return g;
}
