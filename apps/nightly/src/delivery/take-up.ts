import type { Made } from "../forecast/forecast-source";
import { messageOf } from "../forecast/message";
import type { Entry } from "../ledger/ledger";
import { entryOf } from "./entry-of";
import { expiresMs } from "./expiry";
import type { Order } from "./order";
import type { Work } from "./work";

// The service takes a thousand places in a request.
const MOST_IN_A_REQUEST = 1000;

/**
 * Makes the forecasts of these orders and takes their deliveries up in the ledger, before anything is sent.
 * Each is handed on once it is safely there. What the service did not answer is left for another time, and thrown.
 */
export async function takeUp(
  work: Work,
  orders: readonly Order[],
  signal: AbortSignal,
  opened: (entries: Entry[]) => void | Promise<void>,
): Promise<void> {
  const writing: Promise<void>[] = [];
  const failed = new AbortController();
  const either = AbortSignal.any([signal, failed.signal]);
  for (let from = 0; from < orders.length; from += MOST_IN_A_REQUEST) {
    const part = orders.slice(from, from + MOST_IN_A_REQUEST);
    const byPlace = new Map(part.map((order) => [`${order.place.id}/${order.date}`, order]));
    work.journal.requested(part.length);
    try {
      for await (const made of work.forecasts.make(part, either)) {
        const order = byPlace.get(`${made.wanted.place.id}/${made.wanted.date}`);
        if (order === undefined) continue;
        work.journal.made(order.place.id, order.date, "refused" in made ? made.refused : undefined);
        // not waited for one by one: the ledger writes together what comes together
        const written = work.ledger.open(entriesOf(work, order, made)).then(opened);
        written.catch((error) => failed.abort(error));
        writing.push(written);
      }
    } finally {
      await Promise.all(writing);
    }
  }
}

function entriesOf(work: Work, order: Order, made: Made): Entry[] {
  const nowMs = work.now();
  if ("refused" in made) {
    const reason = `the service makes no forecast: ${made.refused}`;
    return order.channels.map((channel) => entryOf(order, channel, nowMs, { state: "dead", reason }));
  }
  const message = messageOf(order.place, made.forecast, nowMs);
  const expires = expiresMs(message, order.overMs, nowMs);
  if (expires <= nowMs) {
    const reason = "its last light had gone when the forecast was made";
    return order.channels.map((channel) => entryOf(order, channel, nowMs, { state: "missed", reason }));
  }
  return order.channels.map((channel) => {
    const full = work.channels.get(channel)?.full === true;
    return entryOf(order, channel, nowMs, {
      state: "pending",
      expiresMs: expires,
      message: full ? { ...message, forecast: made.forecast } : message,
    });
  });
}
