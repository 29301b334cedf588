import type { Entry, Ledger } from "../ledger/ledger";
import { requestedUntilMs } from "./expiry";

/** Makes dead deliveries wait for a new first try, under their old message ids. Returns them as they wait now. */
export async function replay(ledger: Ledger, dead: readonly Entry[], nowMs: number): Promise<Entry[]> {
  const replayed = dead.map(
    (entry): Entry => ({
      ...entry,
      state: "pending",
      attempts: 0,
      nextAttemptMs: nowMs,
      expiresMs: requestedUntilMs(nowMs),
      sinceMs: nowMs,
    }),
  );
  const taken = await Promise.all(replayed.map((entry) => ledger.update(entry)));
  return replayed.filter((_, index) => taken[index]);
}
