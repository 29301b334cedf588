import { keyOf } from "../ledger/key";
import type { Ledger } from "../ledger/ledger";
import type { Place } from "../places/place";

/** A night to be posted for a place. */
export interface Order {
  readonly place: Place;
  /** Local date of the night. */
  readonly date: string;
  /** When the night is over; absent where somebody asked for this very night. */
  readonly overMs?: number;
  /** Those channels that the ledger has nothing of. */
  readonly channels: readonly string[];
}

/** Leaves what the ledger already knows out of orders. */
export async function stillToPost(ledger: Ledger, orders: readonly Order[]): Promise<Order[]> {
  const key = ({ place, date }: Order, channel: string): string => keyOf({ placeId: place.id, night: date, channel });
  const unknown = await ledger.unknown(orders.flatMap((order) => order.channels.map((channel) => key(order, channel))));
  return orders
    .map((order) => ({ ...order, channels: order.channels.filter((channel) => unknown.has(key(order, channel))) }))
    .filter(({ channels }) => channels.length > 0);
}
