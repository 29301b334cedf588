import { daysSinceJ2000, MS_PER_DAY } from "./time";

// Days in a Gregorian year of the 400-year cycle, exact
const DAYS_PER_YEAR = 365.2425;

/** Days since J2000.0 on the Terrestrial Time scale, which the series for sun and moon run on. */
export function ephemerisDaysSinceJ2000(instantMs: number): number {
  return daysSinceJ2000(instantMs) + deltaTSeconds(instantMs) * (1000 / MS_PER_DAY);
}

/**
 * Compute delta T (ΔT): how far Terrestrial Time runs ahead of Universal Time.
 * @param instantMs [Unix ms], years 1900 to 2100
 * @returns [s]
 * Source: Espenak & Meeus 2006, Five Millennium Canon of Solar Eclipses, NASA/TP-2006-214141, polynomial expressions for ΔT.
 * Accuracy: a few tenths of a second up to 2005. What follows was a forecast: 4.7 s too much in 2024, which is 0.0001° on the sun and
 * 0.0007° on the moon; by 2100 the error may be a minute, 0.0007° on the sun. Held by tests/core/delta-t.spec.ts.
 * @example deltaTSeconds(Date.UTC(2000, 0, 1)) // 63.86
 */
export function deltaTSeconds(instantMs: number): number {
  const year = 2000 + daysSinceJ2000(instantMs) * (1 / DAYS_PER_YEAR);
  if (year >= 2005) {
    if (year < 2050) {
      const t = year - 2000;
      return 62.92 + t * (0.32217 + t * 0.005589);
    }
    const u = (year - 1820) * 0.01;
    return -20 + 32 * u * u - 0.5628 * (2150 - year);
  }
  if (year < 1920) {
    const t = year - 1900;
    return -2.79 + t * (1.494119 + t * (-0.0598939 + t * (0.0061966 - t * 0.000197)));
  }
  if (year < 1941) {
    const t = year - 1920;
    return 21.2 + t * (0.84493 + t * (-0.0761 + t * 0.0020936));
  }
  if (year < 1961) {
    const t = year - 1950;
    return 29.07 + t * (0.407 + t * (-1 / 233 + t * (1 / 2547)));
  }
  if (year < 1986) {
    const t = year - 1975;
    return 45.45 + t * (1.067 + t * (-1 / 260 - t * (1 / 718)));
  }
  const t = year - 2000;
  return 63.86 + t * (0.3345 + t * (-0.060374 + t * (0.0017275 + t * (0.000651814 + t * 0.00002373599))));
}
