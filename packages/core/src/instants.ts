import { Temporal } from "temporal-polyfill";
import { DomainError } from "./domain-error";

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

/**
 * The local calendar day at a place.
 * @param date `YYYY-MM-DD`, from 1900 to 2100
 * @param timeZone IANA name
 * @param param name to report a bad date under
 * @throws DomainError for a date that does not exist, a year out of range, or an unknown zone
 */
export function localDay(date: string, timeZone: string, param = "date"): LocalDay {
  const day = parseDate(date, param);
  const zone = requireTimeZone(timeZone);
  return {
    date,
    timeZone,
    startMs: day.toZonedDateTime(zone).epochMilliseconds,
    endMs: day.add({ days: 1 }).toZonedDateTime(zone).epochMilliseconds,
  };
}

/** The calendar day `days` after `date` (before it, when negative). */
export function addDays(date: string, days: number): string {
  return parseDate(date).add({ days }).toString();
}

const LEAP_SECONDS = "seconds 00 to 59; 60 at 23:59 UTC of 30 June and 31 December alone, where leap seconds are";
const BEFORE_LEAP_SECOND = /^\d{4}-(06-30|12-31)T23:59:59/;

/**
 * Unix milliseconds of an RFC 3339 instant; the offset is required, since an instant without one is a guess. Unix time does not count leap seconds:
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

/** A clock for one zone. It remembers the offset of the stretch it last wrote in, so that long timelines stay cheap. */
export function zoneClock(timeZone: string): ZoneClock {
  const zone = requireTimeZone(timeZone);
  let fromMs = 0;
  let toMs = 0;
  let offsetMinutes = 0;
  const offsetAt = (instantMs: number): number => {
    if (instantMs >= fromMs && instantMs < toMs) return offsetMinutes;
    const local = Temporal.Instant.fromEpochMilliseconds(Math.floor(instantMs)).toZonedDateTimeISO(zone);
    const hour = 3_600_000;
    const next = local.getTimeZoneTransition("next")?.epochMilliseconds ?? Number.POSITIVE_INFINITY;
    fromMs = instantMs;
    toMs = Math.min(next, instantMs + 24 * hour);
    // RFC 3339 writes offsets in whole minutes; the seconds of old local mean times are rounded off
    offsetMinutes = Math.round(local.offsetNanoseconds / 6e10);
    return offsetMinutes;
  };
  const shifted = (instantMs: number, minutes: number): string =>
    new Date(instantMs + minutes * 60_000).toISOString().slice(0, -1);
  return {
    timeZone,
    format(instantMs) {
      const minutes = offsetAt(instantMs);
      const local = shifted(instantMs, minutes).replace(/\.000$/, "");
      const sign = minutes < 0 ? "-" : "+";
      const size = Math.abs(minutes);
      const pad = (n: number): string => String(n).padStart(2, "0");
      return `${local}${sign}${pad(Math.floor(size / 60))}:${pad(size % 60)}`;
    },
    dateAt: (instantMs) => shifted(instantMs, offsetAt(instantMs)).slice(0, 10),
  };
}

function parseDate(date: string, param = "date"): Temporal.PlainDate {
  const problem = (): DomainError =>
    new DomainError({ param, given: date, allowed: "a calendar day written YYYY-MM-DD" });
  if (!/^\d{4}-\d{2}-\d{2}$/.test(date)) throw problem();
  let day: Temporal.PlainDate;
  try {
    day = Temporal.PlainDate.from(date, { overflow: "reject" });
  } catch {
    throw problem();
  }
  if (day.year < FIRST_YEAR || day.year > LAST_YEAR) {
    throw new DomainError({
      code: "impossible",
      param,
      given: date,
      allowed: `years ${FIRST_YEAR} to ${LAST_YEAR}`,
    });
  }
  return day;
}

function requireTimeZone(timeZone: string): string {
  try {
    return Temporal.Instant.fromEpochMilliseconds(0).toZonedDateTimeISO(timeZone).timeZoneId;
  } catch {
    throw new DomainError({
      param: "timeZone",
      given: timeZone,
      allowed: "an IANA time zone name, such as Atlantic/Azores",
    });
  }
}
