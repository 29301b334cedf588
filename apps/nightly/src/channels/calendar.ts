import ical from "ical-generator";
import { plainText, titleOf } from "../forecast/texts";
import type { FeedItem } from "../ledger/ledger";

/** A calendar (RFC 5545): an event for each night, from when to be there to when to leave. */
export function calendar(title: string, items: readonly FeedItem[]): string {
  const result = ical({ name: title, prodId: { company: "Fieldstop", product: "nightly", language: "EN" } });
  for (const { id, updatedMs, message } of items) {
    const event = result.createEvent({
      id: `${id}@fieldstop`,
      stamp: new Date(updatedMs),
      summary: titleOf(message),
      description: plainText(message),
      start: new Date(message.arriveBy),
      end: new Date(message.stayUntil),
    });
    event.location({ title: message.place.name, geo: { lat: message.place.latitude, lon: message.place.longitude } });
  }
  return result.toString();
}
