import { Temporal } from "temporal-polyfill";
import type { Place } from "../places/place";

/** What of a place decides when its nights are posted. */
export type Timing = Pick<Place, "timeZone" | "postAt" | "session" | "leadDays">;

/** One night of a place: its local date there, `YYYY-MM-DD`, and the instants that bound its posting. */
export interface Night {
  readonly date: string;
  /** When it is posted. */
  readonly dueMs: number;
  /** From when on it lies behind: 06:00 after an evening, the end of the day for a morning. */
  readonly overMs: number;
}

/**
 * The night of a local date. It is one and the same night however often the clocks show its hour: an hour that the
 * clocks skip is taken as much later as they skip, one that they show twice the first time.
 * Undefined where a place skipped the date itself, in crossing the date line.
 */
export function nightOf(timing: Timing, date: string): Night | undefined {
  const day = Temporal.PlainDate.from(date);
  const posted = day.subtract({ days: timing.leadDays });
  const due = at(timing.timeZone, posted, timing.postAt);
  if (!exists(timing.timeZone, day) || !exists(timing.timeZone, posted)) return undefined;
  const over = at(timing.timeZone, day.add({ days: 1 }), timing.session === "evening" ? "06:00" : "00:00");
  return { date, dueMs: due.epochMilliseconds, overMs: over.epochMilliseconds };
}

/** The local date of the night that a posting at this instant is about. */
export function tonight(timing: Timing, nowMs: number): string {
  const local = Temporal.Instant.fromEpochMilliseconds(nowMs).toZonedDateTimeISO(timing.timeZone).toPlainDate();
  return local.add({ days: timing.leadDays }).toString();
}

export function nextDate(date: string, days = 1): string {
  return Temporal.PlainDate.from(date).add({ days }).toString();
}

function at(timeZone: string, date: Temporal.PlainDate, time: string): Temporal.ZonedDateTime {
  return date
    .toPlainDateTime(Temporal.PlainTime.from(time))
    .toZonedDateTime(timeZone, { disambiguation: "compatible" });
}

function exists(timeZone: string, date: Temporal.PlainDate): boolean {
  return at(timeZone, date, "12:00").toPlainDate().equals(date);
}
