import { Temporal } from "temporal-polyfill";

/** A stretch of time, its end not in it, over which a zone's clocks keep one offset. */
export interface ZoneStretch {
  readonly fromMs: number;
  readonly toMs: number;
  /** Local time less UTC [ms]. */
  readonly offsetMs: number;
}

// Where no change is known ahead, the offset is asked for anew after this time: time zone databases look some years ahead
const LONGEST_MS = 366 * 86_400_000;
// The IANA database has some 600 names; spellings in other cases are zones too
const MOST_ZONES = 1000;

/** The stretch of each zone that was asked for last: days in a row, and the instants of a day, need no further look into the time zone database. */
const lastStretches = new Map<string, ZoneStretch>();

/**
 * The stretch of constant offset that an instant [Unix ms] lies in. It may begin at that instant, though the offset held before; it ends where the
 * offset changes, or earlier.
 * @throws RangeError for a zone that does not exist
 */
export function zoneStretchAt(timeZone: string, instantMs: number): ZoneStretch {
  const last = lastStretches.get(timeZone);
  if (last !== undefined && instantMs >= last.fromMs && instantMs < last.toMs) return last;
  const fromMs = Math.floor(instantMs);
  const local = Temporal.Instant.fromEpochMilliseconds(fromMs).toZonedDateTimeISO(timeZone);
  const nextMs = local.getTimeZoneTransition("next")?.epochMilliseconds ?? Number.POSITIVE_INFINITY;
  const stretch = { fromMs, toMs: Math.min(nextMs, fromMs + LONGEST_MS), offsetMs: local.offsetNanoseconds / 1e6 };
  if (last === undefined && lastStretches.size >= MOST_ZONES) lastStretches.clear();
  lastStretches.set(timeZone, stretch);
  return stretch;
}

/**
 * Any stretch of a zone, whichever is at hand: there is one for every zone that exists.
 * @throws RangeError for a zone that does not exist
 */
export function someStretch(timeZone: string): ZoneStretch {
  return lastStretches.get(timeZone) ?? zoneStretchAt(timeZone, 0);
}
