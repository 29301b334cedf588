/** Milliseconds in one civil day of 24 hours. */
export const MS_PER_DAY = 86_400_000;

// Julian date of the Unix epoch and of the epoch J2000.0 (Meeus 1998, Astronomical Algorithms, ch. 7 and 22)
const JULIAN_DATE_UNIX_EPOCH = 2_440_587.5;
const JULIAN_DATE_J2000 = 2_451_545;

/** Days since J2000.0 on the Universal Time scale, for an instant in Unix milliseconds. */
export function daysSinceJ2000(instantMs: number): number {
  return instantMs / MS_PER_DAY + (JULIAN_DATE_UNIX_EPOCH - JULIAN_DATE_J2000);
}
