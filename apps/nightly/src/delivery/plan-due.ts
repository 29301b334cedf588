import { dueNights } from "../schedule/due-nights";
import { nextDate, tonight } from "../schedule/night";
import { entryOf } from "./entry-of";
import { type Order, stillToPost } from "./order";
import type { Work } from "./work";

export interface Plan {
  readonly orders: readonly Order[];
  /** Notes the nights as dealt with; to be called once the orders have been taken up. */
  readonly dealtWith: () => Promise<void>;
}

/** What is due at all places now. Nights that went by while nobody was there to post are recorded as missed, not sent late. */
export async function planDue(work: Work): Promise<Plan> {
  const nowMs = work.now();
  const places = [...work.places.values()];
  const through = await work.ledger.through(places.map(({ id }) => id));
  const due: Order[] = [];
  const missed: Order[] = [];
  const dealtWith = new Map<string, string>();
  for (const place of places) {
    const before = through.get(place.id);
    const nights = dueNights(place, before, nowMs);
    const { channels } = place;
    due.push(...nights.due.map(({ date, overMs }) => ({ place, date, overMs, channels })));
    missed.push(...nights.missed.map(({ date, overMs }) => ({ place, date, overMs, channels })));
    const last = [...nights.due, ...nights.missed]
      .map(({ date }) => date)
      .sort()
      .at(-1);
    // a place seen for the first time begins with tonight, so that from now on its nights can be missed
    const upTo = last ?? (before === undefined ? nextDate(tonight(place, nowMs), -1) : before);
    if (upTo !== before) dealtWith.set(place.id, upTo);
  }
  const reason = "it was over before it could be posted";
  for (const order of await stillToPost(work.ledger, missed)) {
    const entries = order.channels.map((channel) => entryOf(order, channel, nowMs, { state: "missed", reason }));
    for (const entry of await work.ledger.open(entries)) work.journal.entry(entry);
  }
  return {
    orders: await stillToPost(work.ledger, due),
    dealtWith: async () => {
      if (dealtWith.size > 0) await work.ledger.setThrough(dealtWith);
    },
  };
}

/** What somebody asks for: the night of this date at every place, or else tonight's, whatever the hour. */
export function planRequested(work: Work, date: string | undefined): Promise<Order[]> {
  const nowMs = work.now();
  const orders = [...work.places.values()].map(
    (place): Order => ({ place, date: date ?? tonight(place, nowMs), channels: place.channels }),
  );
  return stillToPost(work.ledger, orders);
}
