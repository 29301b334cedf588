import { createHash } from "node:crypto";
import { setTimeout as delay } from "node:timers/promises";
import { Queue, QueueEvents, Worker } from "bullmq";
import { Redis } from "ioredis";
import type { Logger } from "pino";
import { type Outcome, outcomeOf, resultOf } from "./outcome";

/** Long work by name: JSON in and out, the same answer whoever does it. */
export type Handlers = Readonly<Record<string, (input: never) => Promise<unknown>>>;

export interface SharedWorkSettings<H extends Handlers> {
  readonly redisUrl: string;
  /** Tells apart replicas whose answers may differ: they do not work for each other. */
  readonly version: string;
  /** Jobs that this process takes at once. */
  readonly atOnce: number;
  readonly handlers: H;
  readonly log: Logger;
}

/** Longest that a caller waits for another replica before it does the work itself [ms]. */
const PATIENCE_MS = 8000;
/** Longest that handing a job over may take [ms]. */
const HANDING_OVER_MS = 250;
/** How long a result is kept for those who ask the same again [s]. */
const KEPT_FOR_S = 60;
/** Results kept at most. */
const KEPT = 500;
/** A job whose worker has not been heard of for this long is another's [ms]. */
const UNHEARD_OF_MS = 5000;

/**
 * Long work done once for all replicas: jobs of the same name and input are one job, taken by whichever process has a thread free.
 * While Redis is away, and where nobody gets it done in time, each does its own: doing it twice changes nothing.
 */
export class SharedWork<H extends Handlers> {
  readonly #handlers: H;
  readonly #log: Logger;
  readonly #connection: Redis;
  readonly #listening: Redis;
  readonly #queue: Queue;
  readonly #events: QueueEvents;
  readonly #worker: Worker;
  readonly #away = new Set<() => void>();
  #closing: Promise<void> | undefined;

  constructor({ redisUrl, version, atOnce, handlers, log }: SharedWorkSettings<H>) {
    this.#handlers = handlers;
    this.#log = log;
    // the library asks for patience on connections that wait for jobs; callers are given theirs below
    this.#connection = new Redis(redisUrl, {
      maxRetriesPerRequest: null,
      enableOfflineQueue: true,
      retryStrategy: (attempt) => Math.min(attempt * 100, 1000),
    });
    this.#connection.on("close", () => {
      for (const tell of this.#away) tell();
    });
    const name = `fieldstop-${version}`;
    const connection = this.#connection;
    this.#queue = new Queue(name, {
      connection,
      skipVersionCheck: true,
      defaultJobOptions: { removeOnComplete: { age: KEPT_FOR_S, count: KEPT }, removeOnFail: true },
    });
    this.#listening = connection.duplicate();
    this.#events = new QueueEvents(name, { connection: this.#listening, skipVersionCheck: true });
    this.#worker = new Worker(name, (job) => this.#here(job.name, job.data as unknown), {
      connection,
      skipVersionCheck: true,
      concurrency: atOnce,
      lockDuration: UNHEARD_OF_MS,
      stalledInterval: UNHEARD_OF_MS,
    });
    // one for each caller who waits
    this.#queue.setMaxListeners(0);
    this.#events.setMaxListeners(0);
    // told once by the connection that requests use
    const ignore = (): void => {};
    this.#connection.on("error", ignore);
    this.#listening.on("error", ignore);
    this.#queue.on("error", ignore);
    this.#events.on("error", ignore);
    this.#worker.on("error", ignore);
  }

  /** @throws what the work throws */
  async once<K extends keyof H & string>(name: K, input: Parameters<H[K]>[0]): Promise<Awaited<ReturnType<H[K]>>> {
    const outcome = (await this.#elsewhere(name, input)) ?? (await this.#here(name, input));
    return resultOf(outcome) as Awaited<ReturnType<H[K]>>;
  }

  #here(name: string, input: unknown): Promise<Outcome<unknown>> {
    const handler = this.#handlers[name] as ((input: unknown) => Promise<unknown>) | undefined;
    return outcomeOf(async () => handler?.(input));
  }

  /** How the job ended, wherever it was done; undefined where that did not work out. */
  async #elsewhere(name: string, input: unknown): Promise<Outcome<unknown> | undefined> {
    if (this.#connection.status !== "ready") return undefined;
    const jobId = createHash("sha256")
      .update(JSON.stringify([name, input]))
      .digest("hex");
    let lost: () => void = () => {};
    const away = new Promise<undefined>((resolve) => {
      lost = () => resolve(undefined);
      this.#away.add(lost);
    });
    try {
      const adding = this.#queue.add(name, input, { jobId });
      const job = await Promise.race([adding, away, delay(HANDING_OVER_MS, undefined, { ref: false })]);
      if (job === undefined) return undefined;
      const outcome = await Promise.race([
        job.waitUntilFinished(this.#events, PATIENCE_MS) as Promise<Outcome<unknown>>,
        away,
      ]);
      // a fault may be that replica's own
      return outcome?.kind === "fault" ? undefined : outcome;
    } catch (error) {
      this.#log.debug({ err: error, job: name }, "not done elsewhere");
      return undefined;
    } finally {
      this.#away.delete(lost);
    }
  }

  /** Takes nothing more, and finishes what this process took; without Redis there is nobody to tell of it. */
  close(): Promise<void> {
    this.#closing ??= this.#close();
    return this.#closing;
  }

  async #close(): Promise<void> {
    const there = [this.#connection, this.#listening].every(({ status }) => status === "ready");
    const lost = new Promise<void>((resolve) => this.#connection.once("close", resolve));
    const finish = async (): Promise<void> => {
      await this.#worker.close(!there);
      // these wait for Redis, and what is closed on our side may still be told of on the other
      if (there) await Promise.allSettled([this.#queue.close(), this.#events.close()]);
    };
    // by then whoever waits for a job of theirs has taken it back: Redis may have fallen silent without a word
    await Promise.race([finish(), lost, delay(PATIENCE_MS, undefined, { ref: false })]);
    this.#listening.disconnect();
    this.#connection.disconnect();
  }
}
