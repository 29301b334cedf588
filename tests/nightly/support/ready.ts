import type { Ready } from "@fieldstop/nightly/channels/channel";
import { messageOf } from "@fieldstop/nightly/forecast/message";
import { keyOf, messageIdOf } from "@fieldstop/nightly/ledger/key";
import { forecastOfTheStrand } from "./forecast";
import { place } from "./place";

/** A delivery on its way: the strand on an evening in spring. */
export async function ready(change: Partial<Ready> = {}): Promise<Ready> {
  const name = {
    placeId: change.placeId ?? "strand",
    night: change.night ?? "2027-03-20",
    channel: change.channel ?? "hook",
  };
  const message = messageOf(
    place({ id: name.placeId }),
    await forecastOfTheStrand(),
    Date.parse("2027-03-20T15:00:00Z"),
  );
  return {
    ...name,
    key: keyOf(name),
    messageId: messageIdOf(name),
    state: "pending",
    attempts: 0,
    nextAttemptMs: 0,
    sinceMs: 0,
    message: { ...message, date: name.night },
    ...change,
  };
}
