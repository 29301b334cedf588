import { setTimeout as sleep } from "node:timers/promises";
import { attempt } from "../delivery/attempt";
import { planDue, planRequested } from "../delivery/plan-due";
import { takeUp } from "../delivery/take-up";
import type { Work } from "../delivery/work";
import type { Entry } from "../ledger/ledger";
import { afterGrace } from "./grace";
import { InHand } from "./in-hand";
import { isOutage } from "./outage";
import type { RunOptions, RunResult } from "./runner";

// often enough to see a clock that was changed, a machine that slept and what was replayed meanwhile
const LOOK_EVERY_MS = 5_000;
const LONGEST_OUTAGE_WAIT_MS = 60_000;
// a settled night is not asked about again: places and dates do not come back after more than a year
const KEEP_MS = 400 * 86_400_000;

/** Runs on one machine, with everything in its own ledger, until it has ended or `signal` stops it. */
export async function runSingle(work: Work, options: RunOptions, signal: AbortSignal): Promise<RunResult> {
  const fault = new AbortController();
  const stop = AbortSignal.any([signal, fault.signal]);
  const cut = afterGrace(stop);
  const hand = new InHand(
    options.concurrency,
    (key) => attempt(work, key, cut),
    (error) => fault.abort(error),
    stop,
  );
  const take = (entries: readonly Entry[]): void => {
    for (const { key, state, nextAttemptMs } of entries) {
      if (state === "pending") hand.take(key, nextAttemptMs - work.now());
    }
  };
  const opened = (entries: Entry[]): void => {
    for (const entry of entries) if (entry.state !== "pending") work.journal.entry(entry);
    take(entries);
  };
  const lookForDue = async (): Promise<void> => {
    const { orders, dealtWith } = await planDue(work);
    if (orders.length > 0) await takeUp(work, orders, stop, opened);
    await dealtWith();
  };
  const result = options.once ? await pass() : await keepOn();
  hand.letGo();
  await hand.settled(false);
  if (fault.signal.aborted) throw fault.signal.reason;
  return result;

  async function pass(): Promise<RunResult> {
    let forecasts: RunResult["forecasts"] = "made";
    take(await work.ledger.list("pending"));
    try {
      if (options.due) await lookForDue();
      else await takeUp(work, await planRequested(work, options.date), stop, opened);
    } catch (error) {
      if (!isOutage(error, stop)) throw error;
      work.journal.note(`the forecast service did not answer: ${(error as Error).message}`);
      forecasts = "unreachable";
    }
    const patience = new AbortController();
    await Promise.race([
      hand.settled(true),
      sleep(options.patienceMs, undefined, { signal: AbortSignal.any([patience.signal, stop]) }).catch(() => {}),
    ]);
    patience.abort();
    return { forecasts, waiting: (await work.ledger.list("pending")).length };
  }

  async function keepOn(): Promise<RunResult> {
    let outages = 0;
    while (!stop.aborted) {
      let waitMs = LOOK_EVERY_MS;
      await work.ledger.prune(work.now() - KEEP_MS);
      take(await work.ledger.list("pending"));
      try {
        await lookForDue();
        outages = 0;
      } catch (error) {
        if (stop.aborted) break;
        if (!isOutage(error, stop)) throw error;
        waitMs = Math.min(LONGEST_OUTAGE_WAIT_MS, LOOK_EVERY_MS * 2 ** outages++);
        work.journal.note(`the forecast service did not answer: ${(error as Error).message}`);
      }
      await sleep(waitMs, undefined, { signal: stop }).catch(() => {});
    }
    return { forecasts: "made", waiting: hand.size };
  }
}
