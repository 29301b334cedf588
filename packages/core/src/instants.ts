/**
 * Instants, local days and clocks of a time zone.
 * @module
 */
import { Temporal } from "temporal-polyfill";
import { DomainError } from "./domain-error";
import { MS_PER_DAY } from "./time";
import { someStretch, type ZoneStretch, zoneStretchAt } from "./zone-stretch";

/** A local calendar day as an interval of Unix milliseconds, the end excluded: 23, 24 or 25 hours, or another length where a zone moved. */
export interface LocalDay {
  readonly date: string;
  readonly timeZone: string;
  readonly startMs: number;
  readonly endMs: number;
}

/** Writes instants with the offset of one zone. */
export interface ZoneClock {
  readonly timeZone: string;
  /** RFC 3339 with the zone's offset, to the second, or to the millisecond where the instant has a fraction. */
  format(instantMs: number): string;
  /** The calendar day `YYYY-MM-DD` at that instant in the zone. */
  dateAt(instantMs: number): string;
}

// Years that the light models and the time scales are held to.
const FIRST_YEAR = 1900;
const LAST_YEAR = 2100;

// Zones lie up to 14 hours ahead of UTC and 12 behind it, and have moved by up to a day at once
const LOOK_BACK_MS = 40 * 3_600_000;
const LOOK_AHEAD_MS = 40 * 3_600_000;

/**
 * Find the local calendar day at a place.
 * @param date `YYYY-MM-DD`, from 1900 to 2100
 * @param timeZone IANA name
 * @param param name to report a bad date under
 * @throws DomainError for a date that does not exist, a year out of range, or an unknown zone
 */
export function localDay(date: string, timeZone: string, param = "date"): LocalDay {
  const midnightUtcMs = parseDate(date, param);
  requireTimeZone(timeZone);
  const { toMs, offsetMs } = zoneStretchAt(timeZone, midnightUtcMs - LOOK_BACK_MS);
  if (toMs > midnightUtcMs + LOOK_AHEAD_MS) {
    // no change of clocks anywhere near
    const startMs = midnightUtcMs - offsetMs;
    return { date, timeZone, startMs, endMs: startMs + MS_PER_DAY };
  }
  const day = Temporal.PlainDate.from(date);
  return {
    date,
    timeZone,
    startMs: day.toZonedDateTime(timeZone).epochMilliseconds,
    endMs: day.add({ days: 1 }).toZonedDateTime(timeZone).epochMilliseconds,
  };
}

/**
 * Compute the calendar day `days` after `date` (before it, when negative).
 * @param param name to report a bad date under
 */
export function addDays(date: string, days: number, param = "date"): string {
  return new Date(parseDate(date, param) + days * MS_PER_DAY).toISOString().slice(0, 10);
}

const LEAP_SECONDS = "leap seconds only at the end of June and December in UTC";
const BEFORE_LEAP_SECOND = /-(06-30|12-31)T23:59:59/;

/**
 * Parse an RFC 3339 instant to Unix milliseconds; the offset is required, since an instant without one is a guess. Unix time does not count leap seconds:
 * one is taken as the second before it.
 * @throws DomainError for anything else, or a year out of 1900 to 2100
 */
export function parseInstant(instant: string, param = "instant"): number {
  const problem = (allowed = "RFC 3339 with an offset, such as 2027-03-14T18:30:00+00:00"): DomainError =>
    new DomainError({ param, given: instant, allowed });
  if (!/^\d{4}-\d{2}-\d{2}[Tt]\d{2}:\d{2}:\d{2}(\.\d{1,9})?([Zz]|[+-]\d{2}:\d{2})$/.test(instant)) throw problem();
  let ms: number;
  try {
    ms = Temporal.Instant.from(instant).epochMilliseconds;
  } catch {
    throw problem();
  }
  // RFC 3339, section 5.7
  if (instant.startsWith(":60", 16) && !BEFORE_LEAP_SECOND.test(new Date(ms).toISOString()))
    throw problem(LEAP_SECONDS);
  const year = new Date(ms).getUTCFullYear();
  if (year < FIRST_YEAR || year > LAST_YEAR) {
    throw new DomainError({
      code: "impossible",
      param,
      given: instant,
      allowed: `years ${FIRST_YEAR} to ${LAST_YEAR}`,
    });
  }
  return ms;
}

/** Make a clock for one zone. It remembers the day that it last wrote in, so that long timelines stay cheap. */
export function zoneClock(timeZone: string): ZoneClock {
  let stretch = requireTimeZone(timeZone);
  let offset = offsetOf(stretch);
  // the local day last written in, as if its clocks ran on UTC
  let dayMs = Number.NaN;
  let date = "";
  /** The time of day [ms] at an instant, whose date and offset it leaves behind. */
  const enter = (instantMs: number): number => {
    if (!(instantMs >= stretch.fromMs && instantMs < stretch.toMs)) {
      stretch = zoneStretchAt(timeZone, instantMs);
      offset = offsetOf(stretch);
    }
    const localMs = Math.trunc(instantMs + offset.minutes * 60_000);
    if (!(localMs >= dayMs && localMs < dayMs + MS_PER_DAY)) {
      date = new Date(localMs).toISOString().slice(0, 10);
      dayMs = Math.floor(localMs / MS_PER_DAY) * MS_PER_DAY;
    }
    return localMs - dayMs;
  };
  return {
    timeZone,
    format(instantMs) {
      const timeMs = enter(instantMs);
      const seconds = Math.floor(timeMs / 1000);
      const minutes = Math.floor(seconds / 60);
      const fractionMs = timeMs - 1000 * seconds;
      const fraction = fractionMs === 0 ? "" : `.${String(fractionMs).padStart(3, "0")}`;
      const hours = Math.floor(minutes / 60);
      return `${date}T${two(hours)}:${two(minutes - 60 * hours)}:${two(seconds - 60 * minutes)}${fraction}${offset.text}`;
    },
    dateAt(instantMs) {
      enter(instantMs);
      return date;
    },
  };
}

/** RFC 3339 writes offsets in whole minutes; the seconds of old local mean times are rounded off. */
function offsetOf({ offsetMs }: ZoneStretch): { readonly minutes: number; readonly text: string } {
  const minutes = Math.round(offsetMs / 60_000);
  const size = Math.abs(minutes);
  return { minutes, text: `${minutes < 0 ? "-" : "+"}${two(Math.floor(size / 60))}:${two(size % 60)}` };
}

/** The numbers below 100 in two digits. */
const TWO_DIGITS: readonly string[] = /* @__PURE__ */ Array.from({ length: 100 }, (_, n) => String(n).padStart(2, "0"));

function two(n: number): string {
  return TWO_DIGITS[n] as string;
}

/** A date as Unix milliseconds of its midnight, as if the place kept UTC. */
function parseDate(date: string, param: string): number {
  const midnightUtcMs = /^\d{4}-\d{2}-\d{2}$/.test(date) ? Date.parse(date) : Number.NaN;
  // a day too many for its month is read as one of the next
  if (!(new Date(midnightUtcMs).getUTCDate() === Number(date.slice(8)))) {
    throw new DomainError({ param, given: date, allowed: "an existing calendar day written YYYY-MM-DD" });
  }
  const year = Number(date.slice(0, 4));
  if (year < FIRST_YEAR || year > LAST_YEAR) {
    throw new DomainError({
      code: "impossible",
      param,
      given: date,
      allowed: `years ${FIRST_YEAR} to ${LAST_YEAR}`,
    });
  }
  return midnightUtcMs;
}

// Temporal takes the zone out of a whole date and time, too; that is no name of one
const ZONE = /^([a-z][\w+/-]*|[+-]\d\d:?\d*)$/i;

function requireTimeZone(timeZone: string): ZoneStretch {
  try {
    if (ZONE.test(timeZone)) return someStretch(timeZone);
  } catch {
    // it is none either
  }
  throw new DomainError({
    param: "timeZone",
    given: timeZone,
    allowed: "an IANA time zone name, such as Atlantic/Azores",
  });
}
