import { type DestinationStream, pino } from "pino";
import type { Journal } from "../delivery/journal";
import type { Entry } from "../ledger/ledger";

/** For a log: a line of JSON for what needs someone's eye; what went well is told at the level `debug` alone. */
export function logJournal(
  level: string,
  // not pino's own destination: on a full disk it tries to write its last lines for ever
  destination: DestinationStream = process.stderr,
): Journal & {
  summary(counts: object): void;
} {
  const log = pino({ level, base: null, messageKey: "event" }, destination);
  return {
    requested: (count) => log.debug({ count }, "forecasts requested"),
    made(place, night, refused) {
      if (refused === undefined) log.debug({ place, night }, "forecast made");
    },
    entry({ key, placeId, night, channel, messageId, state, attempts, reason, nextAttemptMs }: Entry) {
      const what = { id: messageId, place: placeId, night, channel, attempts };
      if (state === "delivered") log.debug(what, "delivered");
      else if (state === "pending")
        log.debug({ ...what, reason, next: new Date(nextAttemptMs).toISOString() }, "waits");
      else log.warn({ ...what, key, reason }, state);
    },
    note: (text) => log.warn({ text }, "note"),
    summary: (counts) => log.info(counts, "summary"),
  };
}
