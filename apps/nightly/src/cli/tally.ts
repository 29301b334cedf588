import type { Journal } from "../delivery/journal";
import type { Entry } from "../ledger/ledger";

/** How many of each there were. */
export interface Counts {
  forecastsAsked: number;
  forecastsMade: number;
  delivered: number;
  retries: number;
  dead: number;
  missed: number;
}

/** Counts what happens, and passes it on. */
export function tally(inner: Journal): { readonly counts: Counts; readonly journal: Journal } {
  const counts: Counts = { forecastsAsked: 0, forecastsMade: 0, delivered: 0, retries: 0, dead: 0, missed: 0 };
  const journal: Journal = {
    asked(count) {
      counts.forecastsAsked += count;
      inner.asked(count);
    },
    made(placeId, date, refused) {
      counts.forecastsMade++;
      inner.made(placeId, date, refused);
    },
    entry(entry: Entry) {
      counts[entry.state === "pending" ? "retries" : entry.state]++;
      inner.entry(entry);
    },
    note: (text) => inner.note(text),
  };
  return { counts, journal };
}
