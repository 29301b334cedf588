import { createHash } from "node:crypto";

/** What is delivered once: one night of one place by one channel. */
export interface DeliveryName {
  readonly placeId: string;
  /** Local date of the night at the place. */
  readonly night: string;
  readonly channel: string;
}

/** Under which the ledger keeps it. Names have no slash in them. */
export function keyOf({ placeId, night, channel }: DeliveryName): string {
  return `${placeId}/${night}/${channel}`;
}

/** The `webhook-id`, by which a receiver knows a repetition: the same on every machine and after every crash. */
export function messageIdOf(name: DeliveryName): string {
  return `msg_${createHash("sha256").update(keyOf(name)).digest("base64url").slice(0, 32)}`;
}
