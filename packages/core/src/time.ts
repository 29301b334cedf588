/** Milliseconds in one civil day of 24 hours. */
export const MS_PER_DAY = 86_400_000;

// Julian date of the Unix epoch and of the epoch J2000.0 (Meeus 1998, Astronomical Algorithms, ch. 7 and 22)
const JULIAN_DATE_UNIX_EPOCH = 2_440_587.5;
const JULIAN_DATE_J2000 = 2_451_545;

/** Days since J2000.0 on the Universal Time scale, for an instant in Unix milliseconds. */
export function daysSinceJ2000(instantMs: number): number {
  return instantMs / MS_PER_DAY + (JULIAN_DATE_UNIX_EPOCH - JULIAN_DATE_J2000);
}

/**
 * Terrestrial Time less Universal Time [s] at an instant, good to about 1 s from 1900 to today and a forecast to 2100.
 * Source: Espenak and Meeus 2006, NASA/TP-2006-214141, polynomial expressions for Delta T.
 */
export function deltaTSeconds(instantMs: number): number {
  const year = 2000 + daysSinceJ2000(instantMs) / 365.2425;
  if (year < 1920) return polynomial(year - 1900, [-2.79, 1.494119, -0.0598939, 0.0061966, -0.000197]);
  if (year < 1941) return polynomial(year - 1920, [21.2, 0.84493, -0.0761, 0.0020936]);
  if (year < 1961) return polynomial(year - 1950, [29.07, 0.407, -1 / 233, 1 / 2547]);
  if (year < 1986) return polynomial(year - 1975, [45.45, 1.067, -1 / 260, -1 / 718]);
  if (year < 2005) return polynomial(year - 2000, [63.86, 0.3345, -0.060374, 0.0017275, 0.000651814, 0.00002373599]);
  if (year < 2050) return polynomial(year - 2000, [62.92, 0.32217, 0.005589]);
  const centuries = (year - 1820) / 100;
  return -20 + 32 * centuries * centuries - 0.5628 * (2150 - year);
}

function polynomial(x: number, coefficients: readonly number[]): number {
  let sum = 0;
  for (let i = coefficients.length - 1; i >= 0; i--) sum = sum * x + (coefficients[i] as number);
  return sum;
}
