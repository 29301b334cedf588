import { RADIANS_PER_DEGREE } from "../angles";

/** What the wobble of the earth's axis does to directions, at an instant. */
export interface Nutation {
  /** In longitude, of the equinox [rad]. */
  readonly longitudeRad: number;
  /** True obliquity of the ecliptic [rad]. */
  readonly obliquityRad: number;
}

const RADIANS_PER_ARCSEC = RADIANS_PER_DEGREE / 3600;

/**
 * Nutation by its four largest terms and the obliquity, `centuries` of Terrestrial Time from J2000.0.
 * Source: Meeus 1998, Astronomical Algorithms, ch. 22, and eq. 22.2. Accuracy 0.5″.
 */
export function nutation(centuries: number): Nutation {
  const node = (125.04452 - 1934.136261 * centuries) * RADIANS_PER_DEGREE;
  const twiceSun = 2 * (280.4665 + 36000.7698 * centuries) * RADIANS_PER_DEGREE;
  const twiceMoon = 2 * (218.3165 + 481267.8813 * centuries) * RADIANS_PER_DEGREE;
  const longitudeArcsec =
    -17.2 * Math.sin(node) - 1.32 * Math.sin(twiceSun) - 0.23 * Math.sin(twiceMoon) + 0.21 * Math.sin(2 * node);
  const obliquityArcsec =
    9.2 * Math.cos(node) + 0.57 * Math.cos(twiceSun) + 0.1 * Math.cos(twiceMoon) - 0.09 * Math.cos(2 * node);
  const meanObliquityArcsec = 84381.448 - centuries * (46.815 + centuries * (0.00059 - centuries * 0.001813));
  return {
    longitudeRad: longitudeArcsec * RADIANS_PER_ARCSEC,
    obliquityRad: (meanObliquityArcsec + obliquityArcsec) * RADIANS_PER_ARCSEC,
  };
}

/**
 * Mean sidereal time at Greenwich [rad], `days` of Universal Time from J2000.0.
 * Source: Meeus 1998, eq. 12.4.
 */
export function meanSiderealTime(days: number): number {
  const centuries = days / 36525;
  // the turns of whole days are taken off first, so that a century of them costs no digits
  const wholeDays = Math.floor(days);
  const degrees =
    280.46061837 +
    360 * (days - wholeDays) +
    0.98564736629 * days +
    centuries * centuries * (0.000387933 - centuries / 38710000);
  return (degrees % 360) * RADIANS_PER_DEGREE;
}
