import { createHash } from "node:crypto";
import { setTimeout as sleep } from "node:timers/promises";
import { DelayedError, type Job, Queue, Worker, type WorkerOptions } from "bullmq";
import { Redis } from "ioredis";
import { attempt } from "../delivery/attempt";
import type { Order } from "../delivery/order";
import { planDue, planRequested } from "../delivery/plan-due";
import { takeUp } from "../delivery/take-up";
import type { Work } from "../delivery/work";
import type { Entry } from "../ledger/ledger";
import { afterGrace } from "./grace";
import { isOutage } from "./outage";
import type { RunOptions, RunResult } from "./runner";

const QUEUE = "nightly";
const LOOK_EVERY_MS = 5_000;
/** Places in one job: a worker makes their forecasts in one request. */
const PLACES_IN_A_JOB = 100;

interface ForecastJob {
  readonly kind: "forecast";
  readonly orders: readonly (Omit<Order, "place"> & { readonly placeId: string })[];
}

interface DeliverJob {
  readonly kind: "deliver";
  readonly key: string;
}

type NightlyJob = Job<ForecastJob | DeliverJob>;

export interface QueueOptions {
  readonly url: string;
  readonly prefix?: string;
  /** How long a worker may be silent before another takes its jobs over [ms]. */
  readonly lockMs?: number;
}

/**
 * Runs as one of any number of workers that share a queue in Redis. Every worker looks for what is due, and the ids of
 * the jobs keep what several have seen from being done twice; the ledger keeps what is done twice after a crash from
 * being delivered twice.
 */
export async function runQueued(
  work: Work,
  options: RunOptions,
  { url, prefix = "{fieldstop-nightly}", lockMs = 10_000 }: QueueOptions,
  signal: AbortSignal,
): Promise<RunResult> {
  const fault = new AbortController();
  const stop = AbortSignal.any([signal, fault.signal]);
  const cut = afterGrace(stop);
  const connections = [connect(url), connect(url)] as const;
  const queue = new Queue<ForecastJob | DeliverJob>(QUEUE, { connection: connections[0], prefix });
  const workerOptions: WorkerOptions = {
    connection: connections[1],
    prefix,
    concurrency: options.concurrency,
    lockDuration: lockMs,
    stalledInterval: lockMs,
    // a job whose worker died is another one's, however often that happens
    maxStalledCount: Number.MAX_SAFE_INTEGER,
  };
  let outage = false;
  const worker = new Worker<ForecastJob | DeliverJob>(QUEUE, run, workerOptions);
  // both tell of lost connections here, and find them again by themselves
  worker.on("error", () => {});
  queue.on("error", () => {});
  worker.on("failed", (job, error) => work.journal.note(`${job?.data.kind} failed: ${error.message}`));
  try {
    return options.once ? await pass() : await keepOn();
  } finally {
    await closeWithin(15_000, worker.close(), () => worker.close(true));
    await queue.close();
    for (const connection of connections) connection.disconnect();
  }

  async function run(job: NightlyJob, token: string | undefined): Promise<void> {
    if (job.data.kind === "forecast") return makeForecasts(job.data);
    const step = await attempt(work, job.data.key, cut);
    if (step.kind === "settled") return;
    await job.moveToDelayed(step.atMs, token);
    throw new DelayedError();
  }

  async function makeForecasts({ orders }: ForecastJob): Promise<void> {
    const known = orders.flatMap(({ placeId, ...rest }): Order[] => {
      const place = work.places.get(placeId);
      return place === undefined ? [] : [{ ...rest, place }];
    });
    try {
      await takeUp(work, known, stop, async (entries) => {
        for (const entry of entries) if (entry.state !== "pending") work.journal.entry(entry);
        await addDeliveries(entries);
      });
      outage = false;
    } catch (error) {
      if (!isOutage(error, stop)) throw error;
      outage = true;
      work.journal.note(`the forecast service did not answer: ${(error as Error).message}`);
    }
  }

  async function addForecasts(orders: readonly Order[]): Promise<void> {
    const jobs: Parameters<typeof queue.addBulk>[0] = [];
    for (let from = 0; from < orders.length; from += PLACES_IN_A_JOB) {
      const part = orders.slice(from, from + PLACES_IN_A_JOB);
      const id = part.map(({ place, date, channels }) => `${place.id}/${date}/${channels.join()}`).join();
      const data = {
        kind: "forecast" as const,
        orders: part.map(({ place, ...rest }) => ({ ...rest, placeId: place.id })),
      };
      jobs.push({ name: "forecast", data, opts: { ...once, jobId: `f-${hash(id)}` } });
    }
    await queue.addBulk(jobs);
  }

  async function addDeliveries(entries: readonly Entry[]): Promise<void> {
    const pending = entries.filter(({ state }) => state === "pending");
    if (pending.length === 0) return;
    await queue.addBulk(
      pending.map(({ key, messageId, nextAttemptMs }) => ({
        name: "deliver",
        data: { kind: "deliver" as const, key },
        opts: { ...once, jobId: messageId, delay: Math.max(0, nextAttemptMs - work.now()) },
      })),
    );
  }

  /** What the ledger has pending has a job, also where Redis lost one, or an entry was replayed. */
  async function look(): Promise<void> {
    const { orders, dealtWith } = await planDue(work);
    await addForecasts(orders);
    await addDeliveries(await work.ledger.list("pending"));
    if (orders.length === 0) await dealtWith();
  }

  async function keepOn(): Promise<RunResult> {
    while (!stop.aborted) {
      await look();
      await sleep(LOOK_EVERY_MS, undefined, { signal: stop }).catch(() => {});
    }
    return { forecasts: "made", waiting: 0 };
  }

  async function pass(): Promise<RunResult> {
    const plan = async (): Promise<readonly Order[]> =>
      options.due ? (await planDue(work)).orders : planRequested(work, options.date);
    const endMs = Date.now() + options.patienceMs;
    await addForecasts(await plan());
    await addDeliveries(await work.ledger.list("pending"));
    for (;;) {
      await sleep(250, undefined, { signal: stop }).catch(() => {});
      const [orders, pending] = [await plan(), await work.ledger.list("pending")];
      const ended = (orders.length === 0 && pending.length === 0) || outage || stop.aborted || Date.now() > endMs;
      if (ended) return { forecasts: orders.length === 0 ? "made" : "unreachable", waiting: pending.length };
    }
  }
}

/** A finished job is forgotten at once: what was done is in the ledger. */
const once = { removeOnComplete: true, removeOnFail: true } as const;

function connect(url: string): Redis {
  const redis = new Redis(url, { maxRetriesPerRequest: null });
  redis.on("error", () => {});
  return redis;
}

function hash(text: string): string {
  return createHash("sha256").update(text).digest("hex").slice(0, 32);
}

async function closeWithin(ms: number, closed: Promise<void>, force: () => Promise<void>): Promise<void> {
  const late = new AbortController();
  await Promise.race([closed, sleep(ms, undefined, { signal: late.signal }).then(force, () => {})]);
  late.abort();
}
