import { DomainError } from "./domain-error";

/** Milliseconds in one civil day of 24 hours. */
export const MS_PER_DAY = 86_400_000;

// Julian date of the Unix epoch and of the epoch J2000.0 (Meeus 1998, Astronomical Algorithms, ch. 7 and 22)
const JULIAN_DATE_UNIX_EPOCH = 2_440_587.5;
const JULIAN_DATE_J2000 = 2_451_545;

/** Days since J2000.0 on the Universal Time scale, for an instant in Unix milliseconds. */
export function daysSinceJ2000(instantMs: number): number {
  return instantMs / MS_PER_DAY + (JULIAN_DATE_UNIX_EPOCH - JULIAN_DATE_J2000);
}

// The years that the series are held to, and a month on either side: a local day begins before its date in UTC, and a search looks beyond its ends.
const FIRST_INSTANT_MS = Date.UTC(1899, 11, 1);
const LAST_INSTANT_MS = Date.UTC(2101, 1, 1);

/** Returns `instantMs` when it lies in the years that the models are held to; otherwise throws a {@link DomainError} that names it. */
export function requireInstant(param: string, instantMs: number): number {
  if (!(instantMs >= FIRST_INSTANT_MS && instantMs <= LAST_INSTANT_MS)) {
    throw new DomainError({
      code: Number.isFinite(instantMs) ? "impossible" : "out-of-range",
      param,
      given: instantMs,
      allowed: "an instant of the years 1900 to 2100",
      unit: "Unix ms",
    });
  }
  return instantMs;
}
