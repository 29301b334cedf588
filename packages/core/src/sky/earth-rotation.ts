import { RADIANS_PER_DEGREE } from "../angles";
import { daysSinceJ2000 } from "../time";
import { PAIR, sincos } from "./sincos";

const RADIANS_PER_ARCSECOND = RADIANS_PER_DEGREE / 3600;

// Mean obliquity of the ecliptic at J2000.0 (Meeus 1998, Astronomical Algorithms, 22.2)
const OBLIQUITY_J2000 = 84381.448 * RADIANS_PER_ARCSECOND;
const COS_OBLIQUITY_J2000 = Math.cos(OBLIQUITY_J2000);
const SIN_OBLIQUITY_J2000 = Math.sin(OBLIQUITY_J2000);

/** Where {@link nutation} leaves its answer: nutation in longitude [rad], then cosine and sine of the true obliquity. */
export const EQUATOR = new Float64Array(3);

/**
 * How far the equinox nods and how much the equator of date is tilted, into {@link EQUATOR}.
 * @param t Julian millennia of Terrestrial Time since J2000.0
 * @param cosSun cosine of the sun's longitude
 * @param sinSun sine of the sun's longitude
 * Source: IAU 1980 theory of nutation, its four largest terms (Meeus 1998, ch. 22, table 22.A), and the obliquity by eq. 22.2.
 * Accuracy: 0.4″; held by the golden rows `meeus.22a` and `spa`.
 */
export function nutation(t: number, cosSun: number, sinSun: number): void {
  const sin2Sun = 2 * sinSun * cosSun;
  const cos2Sun = 1 - 2 * sinSun * sinSun;
  // the moon's mean longitude, twice, and the longitude of its ascending node
  sincos(RADIANS_PER_DEGREE * 2 * (218.3165 + 4812678.813 * t));
  const cos2Moon = PAIR[0] as number;
  const sin2Moon = PAIR[1] as number;
  sincos(RADIANS_PER_DEGREE * (125.04452 - 19341.36261 * t));
  const cosNode = PAIR[0] as number;
  const sinNode = PAIR[1] as number;
  const sin2Node = 2 * sinNode * cosNode;
  const cos2Node = 1 - 2 * sinNode * sinNode;

  EQUATOR[0] = RADIANS_PER_ARCSECOND * (-17.1996 * sinNode - 1.3187 * sin2Sun - 0.2274 * sin2Moon + 0.2062 * sin2Node);
  const tilt =
    RADIANS_PER_ARCSECOND *
    (-t * (468.15 + t * (0.059 - t * 1.813)) +
      9.2025 * cosNode +
      0.5736 * cos2Sun +
      0.0977 * cos2Moon -
      0.0895 * cos2Node);
  // the tilt strays from that of J2000.0 by less than 0.0003 rad: two terms do for its cosine and sine
  EQUATOR[1] = COS_OBLIQUITY_J2000 - tilt * (SIN_OBLIQUITY_J2000 + (tilt / 2) * COS_OBLIQUITY_J2000);
  EQUATOR[2] = SIN_OBLIQUITY_J2000 + tilt * (COS_OBLIQUITY_J2000 - (tilt / 2) * SIN_OBLIQUITY_J2000);
}

/**
 * Mean sidereal time at Greenwich [rad], less the whole turns of whole days.
 * Source: Meeus 1998, eq. 12.4. UTC stands for UT1, from which it strays by 0.9 s at most: 0.004° of turn.
 */
export function meanSiderealTime(instantMs: number): number {
  const days = daysSinceJ2000(instantMs);
  const centuries = days * (1 / 36525);
  // whole days are whole turns: without them a century costs no digits
  return (
    RADIANS_PER_DEGREE *
    (280.46061837 +
      360 * (days - Math.floor(days)) +
      0.98564736629 * days +
      centuries * centuries * (0.000387933 - centuries * (1 / 38710000)))
  );
}
