import { keyOf, messageIdOf } from "../ledger/key";
import type { Entry } from "../ledger/ledger";
import type { Order } from "./order";

/** A new entry of the ledger for one channel of an order. */
export function entryOf(
  { place, date }: Order,
  channel: string,
  nowMs: number,
  rest: Pick<Entry, "state"> & Partial<Entry>,
): Entry {
  const name = { placeId: place.id, night: date, channel };
  return {
    ...name,
    key: keyOf(name),
    messageId: messageIdOf(name),
    attempts: 0,
    nextAttemptMs: nowMs,
    sinceMs: nowMs,
    ...rest,
  };
}
