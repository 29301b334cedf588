import { ICalCalendar, ICalEventTransparency } from "ical-generator";
import { oneLine } from "./escape";

export interface CalendarEntry {
  /** Stable: the same thing has the same id in every edition of the calendar. */
  readonly id: string;
  readonly start: string;
  readonly end: string;
  readonly summary: string;
  readonly description: string;
  /** When what it says was last made anew [Unix ms]. */
  readonly revisedMs: number;
}

export interface CalendarPlace {
  readonly name: string;
  readonly latitude: number;
  readonly longitude: number;
}

/**
 * What is reckoned without weather changes with the service alone, not with the hour at which it is asked: so that a calendar is the same to the byte each
 * time, it bears the day on which the calculations last changed.
 */
export const ALMANAC_REVISED_MS = Date.UTC(2026, 10, 25);

/** How often a subscriber should look for a new edition [s] (RFC 7986, 5.7). */
const REFRESH_SECONDS = 6 * 3600;

/**
 * A calendar to subscribe to (RFC 5545). Instants are in UTC, which every reader turns into its own zone, so that no zone has to be described. Entries take
 * no time from anyone's day.
 */
export function calendar(title: string, place: CalendarPlace, entries: readonly CalendarEntry[]): string {
  const made = new ICalCalendar({
    name: oneLine(title),
    prodId: { company: "Fieldstop", product: "Fieldstop", language: "EN" },
    ttl: REFRESH_SECONDS,
  });
  for (const { id, start, end, summary, description, revisedMs } of entries) {
    const revised = new Date(revisedMs);
    made.createEvent({
      id: `${id}@fieldstop`,
      start: new Date(start),
      end: new Date(Math.max(Date.parse(end), Date.parse(start) + 60_000)),
      stamp: revised,
      lastModified: revised,
      summary: oneLine(summary),
      description: { plain: description.split("\n").map(oneLine).join("\n") },
      location: { title: oneLine(place.name), geo: { lat: place.latitude, lon: place.longitude } },
      transparency: ICalEventTransparency.TRANSPARENT,
    });
  }
  return `${made.toString()}\r\n`;
}
