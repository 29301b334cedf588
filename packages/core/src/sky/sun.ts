import { daysSinceJ2000, deltaTSeconds } from "../time";
import { meanSiderealTime, nutation } from "./earth-rotation";
import { type Observer, type SkyPosition, siteOf, toHorizontal } from "./horizontal";
import type { Atmosphere } from "./refraction";

/** The sun's apparent geocentric place. */
export interface SunPlace {
  /** Toward the true equinox, 90° east of it, and the celestial pole [earth radii]. */
  readonly x: number;
  readonly y: number;
  readonly z: number;
  /** Sidereal time at Greenwich that hour angles are counted from [rad]. */
  readonly siderealRad: number;
  readonly distanceAu: number;
}

// Reda and Andreas 2008, NREL/TP-560-34302, table A4.2 (from VSOP87, Bretagnon and Francou 1988): heliocentric longitude and
// radius of the earth, as amplitude [1e-8 rad, 1e-8 au], phase [rad], frequency [rad per 1000 years]. Longitude terms under
// 0.4e-5 rad (0.8″) are left out.
const L0 = Float64Array.of(
  3341656,
  4.6692568,
  6283.07585,
  34894,
  4.6261,
  12566.1517,
  3497,
  2.7441,
  5753.3849,
  3418,
  2.8289,
  3.5231,
  3136,
  3.6277,
  77713.7715,
  2676,
  4.4181,
  7860.4194,
  2343,
  6.1352,
  3930.2097,
  1324,
  0.7425,
  11506.7698,
  1273,
  2.0371,
  529.691,
  1199,
  1.1096,
  1577.3435,
  990,
  5.233,
  5884.927,
  902,
  2.045,
  26.298,
  857,
  3.508,
  398.149,
  780,
  1.179,
  5223.694,
  753,
  2.533,
  5507.553,
  505,
  4.583,
  18849.228,
  492,
  4.205,
  775.523,
);
const L0_MEAN = 175347046;
const L1_MEAN = 628331966747;
const L1 = Float64Array.of(206059, 2.678235, 6283.07585, 4303, 2.6351, 12566.1517);
const L2_MEAN = 52919;
const L2 = Float64Array.of(8720, 1.0721, 6283.0758);
const R0 = Float64Array.of(1670700, 3.0984635, 6283.07585, 13956, 3.05525, 12566.1517);
const R0_MEAN = 100013989;
const R1 = Float64Array.of(103019, 1.10749, 6283.07585);

const RADIANS_PER_ARCSEC = Math.PI / 648000;
// Reda and Andreas 2008, section 3.6: aberration 20.4898″ / R; Meeus 1998, eq. 32.3: to the FK5 frame
const ABERRATION_RAD = 20.4898 * RADIANS_PER_ARCSEC;
const TO_FK5_RAD = -0.09033 * RADIANS_PER_ARCSEC;
/** Astronomical unit [earth radii]: from the sun's parallax of 8.794143″ (IAU 1976). */
const AU_EARTH_RADII = 1 / Math.sin(8.794143 * RADIANS_PER_ARCSEC);

/**
 * Where the sun stands.
 * @param instantMs Unix milliseconds, years 1900 to 2100
 * @param observer latitude and longitude [deg], elevation [m]
 * @param atmosphere pressure [hPa] and temperature [°C]; default 1010 hPa, 10 °C
 * @returns azimuth, apparent and true altitude of the centre [deg]
 * @throws DomainError for an observer or an atmosphere out of range
 * Source: VSOP87 in the extract of Reda and Andreas 2008 (NREL/TP-560-34302), nutation after Meeus 1998; not suncalc's, whose places
 * are up to 0.014° off and whose altitudes below the horizon carry a constant refraction.
 * Accuracy: see the table that `npm run accuracy` prints; held against astronomy-engine over 1950 to 2050 in tests/accuracy.
 * @example sunPosition(Date.UTC(2003, 9, 17, 19, 30, 30), { latitude: 39.742476, longitude: -105.1786 }).azimuthDeg // 194.34
 */
export function sunPosition(instantMs: number, observer: Observer, atmosphere?: Atmosphere): SkyPosition {
  const { x, y, z, siderealRad } = sunPlace(instantMs);
  return toHorizontal(x, y, z, siderealRad, siteOf(observer, atmosphere));
}

/** The sun's apparent geocentric place at an instant. */
export function sunPlace(instantMs: number): SunPlace {
  const days = daysSinceJ2000(instantMs);
  const millennia = (days + deltaTSeconds(instantMs) / 86400) / 365250;
  const { longitudeRad, obliquityRad } = nutation(millennia * 10);
  const earthLongitude =
    L0_MEAN +
    terms(L0, millennia) +
    millennia * (L1_MEAN + terms(L1, millennia) + millennia * (L2_MEAN + terms(L2, millennia)));
  const distanceAu = (R0_MEAN + terms(R0, millennia) + millennia * terms(R1, millennia)) * 1e-8;
  const longitude = earthLongitude * 1e-8 + Math.PI + TO_FK5_RAD + longitudeRad - ABERRATION_RAD / distanceAu;
  const cosObliquity = Math.cos(obliquityRad);
  const distance = distanceAu * AU_EARTH_RADII;
  const sinLongitude = Math.sin(longitude) * distance;
  return {
    x: Math.cos(longitude) * distance,
    y: sinLongitude * cosObliquity,
    z: sinLongitude * Math.sin(obliquityRad),
    siderealRad: meanSiderealTime(days) + longitudeRad * cosObliquity,
    distanceAu,
  };
}

function terms(series: Float64Array, millennia: number): number {
  let sum = 0;
  for (let i = 0; i < series.length; i += 3) {
    sum += (series[i] as number) * Math.cos((series[i + 1] as number) + (series[i + 2] as number) * millennia);
  }
  return sum;
}
