import type { Journal } from "../delivery/journal";
import type { Entry } from "../ledger/ledger";

/** How many of each there were. */
export interface Counts {
  forecastsRequested: number;
  forecastsMade: number;
  delivered: number;
  retries: number;
  dead: number;
  missed: number;
}

/** Counts what happens, and passes it on. */
export function tally(inner: Journal): { readonly counts: Counts; readonly journal: Journal } {
  const counts: Counts = { forecastsRequested: 0, forecastsMade: 0, delivered: 0, retries: 0, dead: 0, missed: 0 };
  const journal: Journal = {
    requested(count) {
      counts.forecastsRequested += count;
      inner.requested(count);
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
