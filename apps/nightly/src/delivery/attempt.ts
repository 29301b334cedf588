import type { Outcome, Ready } from "../channels/channel";
import { messageOf } from "../forecast/message";
import type { Entry } from "../ledger/ledger";
import { waitMs } from "./retry-policy";
import type { Work } from "./work";

/** Where a delivery stands after a try. */
export type Step = { readonly kind: "settled" } | { readonly kind: "later"; readonly atMs: number };

const SETTLED: Step = { kind: "settled" };

/**
 * One try of one delivery: the same job whoever runs it. The ledger knows it before the try and is told after; a crash
 * between sending and telling repeats the sending under the same message id, by which the receiver knows it.
 */
export async function attempt(work: Work, key: string, signal: AbortSignal): Promise<Step> {
  const entry = await work.ledger.get(key);
  if (entry === undefined || entry.state !== "pending") return SETTLED;
  const startMs = work.now();
  if (entry.nextAttemptMs > startMs) return { kind: "later", atMs: entry.nextAttemptMs };
  if (entry.expiresMs !== undefined && entry.expiresMs <= startMs) {
    const before = entry.reason === undefined ? "" : ` (last try: ${entry.reason})`;
    return settle(work, entry, { state: "dead", reason: `the night was over before it arrived${before}` });
  }
  const outcome = await tryOnce(work, entry, signal);
  if (outcome.kind === "delivered") return settle(work, entry, { state: "delivered", attempts: entry.attempts + 1 });
  // a try that was cut off by the runner's own stop is not counted
  if (signal.aborted) return { kind: "later", atMs: startMs };
  return fail(work, entry, outcome);
}

async function tryOnce(work: Work, entry: Entry, signal: AbortSignal): Promise<Outcome> {
  const channel = work.channels.get(entry.channel);
  if (channel === undefined) return { kind: "failed", reason: "the places file has no such channel", final: true };
  const ready = entry.message === undefined ? await withMessage(work, entry, signal) : (entry as Ready);
  return "kind" in ready ? ready : channel.deliver(ready, signal);
}

/** Only a forecast that the service once refused has none, when it is replayed. */
async function withMessage(work: Work, entry: Entry, signal: AbortSignal): Promise<Ready | Outcome> {
  const place = work.places.get(entry.placeId);
  if (place === undefined) return { kind: "failed", reason: "the places file has no such place", final: true };
  try {
    for await (const made of work.forecasts.make([{ place, date: entry.night }], signal)) {
      if ("refused" in made) return { kind: "failed", reason: made.refused, final: true };
      const message = messageOf(place, made.forecast, work.now());
      const full = work.channels.get(entry.channel)?.full === true;
      return { ...entry, message: full ? { ...message, forecast: made.forecast } : message };
    }
    return { kind: "failed", reason: "the service answered without a forecast" };
  } catch (error) {
    return { kind: "failed", reason: (error as Error).message };
  }
}

async function fail(work: Work, entry: Entry, outcome: Extract<Outcome, { kind: "failed" }>): Promise<Step> {
  const { reason, final = false, retryAfterMs = 0 } = outcome;
  const attempts = entry.attempts + 1;
  if (final || attempts >= work.retry.attempts) return settle(work, entry, { state: "dead", attempts, reason });
  const nowMs = work.now();
  const nextAttemptMs = nowMs + Math.ceil(waitMs(work.retry, attempts, retryAfterMs, work.random));
  if (entry.expiresMs !== undefined && nextAttemptMs >= entry.expiresMs) {
    return settle(work, entry, { state: "dead", attempts, reason: `${reason}; the night is over before the next try` });
  }
  const waiting: Entry = { ...entry, attempts, nextAttemptMs, reason };
  if (!(await work.ledger.update(waiting))) return SETTLED;
  work.journal.entry(waiting);
  return { kind: "later", atMs: nextAttemptMs };
}

async function settle(work: Work, entry: Entry, change: Pick<Entry, "state"> & Partial<Entry>): Promise<Step> {
  const { message, reason, ...rest } = entry;
  const kept = change.state === "dead" ? { message, reason } : {};
  const settled = { ...rest, ...kept, ...change, sinceMs: work.now() } as Entry;
  if (await work.ledger.update(settled)) work.journal.entry(settled);
  return SETTLED;
}
