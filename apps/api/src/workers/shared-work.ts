import { createHash } from "node:crypto";
import { setTimeout as delay } from "node:timers/promises";
import { Job, Queue, Worker } from "bullmq";
import type { Logger } from "pino";
import { Breaker } from "../redis/breaker";
import { GuardedRedis } from "../redis/guarded-redis";

/** Long work: JSON in and out, the same result whoever does it. */
export interface SharedJob<I, O> {
  readonly run: (input: I) => Promise<O>;
  /** Whether what lies in Redis is an input: anyone may have put it there. */
  readonly isInput: (value: unknown) => boolean;
  /** Whether what came back is a result. */
  readonly isResult: (value: unknown) => boolean;
}

/** Long work by name. */
export type SharedJobs = Readonly<Record<string, SharedJob<never, unknown>>>;

type InputOf<J> = J extends SharedJob<infer I, unknown> ? I : never;
type ResultOf<J> = J extends SharedJob<never, infer O> ? O : never;

export interface SharedWorkSettings<J extends SharedJobs> {
  readonly redisUrl: string;
  /** Tells apart replicas whose results may differ: they do not work for each other. */
  readonly version: string;
  /** Jobs that this process takes at once. */
  readonly atOnce: number;
  readonly jobs: J;
  readonly log: Logger;
}

/** Longest that a caller waits before it does the work itself, where no replica is heard to be at it [ms]. */
const PATIENCE_MS = 2500;
/** The same where one is [ms]. */
const LONGEST_PATIENCE_MS = 8000;
/** Longest that one question to Redis may take [ms]. */
const REDIS_PATIENCE_MS = 250;
/** Between two looks whether a job is done [ms]. */
const FIRST_LOOK_MS = 20;
const LONGEST_LOOK_MS = 150;
/** How long a result is kept for those who ask the same again [s]. */
const KEPT_FOR_S = 60;
/** Results kept at most. */
const KEPT = 500;
/** A job whose worker has not been heard of for this long is another's [ms]. */
const UNHEARD_OF_MS = 5000;
/** A worker that is at a job says so this often [ms]. */
const HEARD_EVERY_MS = UNHEARD_OF_MS / 2;
/** Before this process takes jobs again after a fault [ms]. */
const RETRY_MS = 1000;
/** Longest that a stop waits for jobs that this process took [ms]. */
const FINISHING_MS = 8000;
/** Longest that a stop waits for Redis to hear of it [ms]. */
const TELLING_MS = 300;

const ignore = (): void => {};

/**
 * Long work done once for all replicas: jobs of the same name and input are one job, taken by whichever process has a thread free.
 * Where Redis is away, misbehaves or answers late, and where nobody gets it done in time, each does its own: doing it twice changes
 * nothing. What comes out of Redis is checked; results that are none are not used.
 */
export class SharedWork<J extends SharedJobs> {
  readonly #jobs: J;
  readonly #log: Logger;
  readonly #breaker = new Breaker();
  readonly #connection: GuardedRedis;
  readonly #queue: Queue;
  readonly #worker: Worker;
  /** Jobs from the queue that this process is at, by id. */
  readonly #underWay = new Map<string, Promise<Done>>();
  #closing: Promise<void> | undefined;

  constructor({ redisUrl, version, atOnce, jobs, log }: SharedWorkSettings<J>) {
    this.#jobs = jobs;
    this.#log = log;
    // the library asks for patience on connections that wait for jobs; callers are given theirs below
    const connection = new GuardedRedis(redisUrl, {
      maxRetriesPerRequest: null,
      enableOfflineQueue: true,
      connectTimeout: 1000,
    });
    this.#connection = connection;
    const name = `fieldstop-${version}`;
    this.#queue = new Queue(name, {
      connection,
      skipVersionCheck: true,
      defaultJobOptions: { removeOnComplete: { age: KEPT_FOR_S, count: KEPT }, removeOnFail: true },
    });
    this.#worker = new Worker(name, (job) => this.#take(job), {
      connection,
      autorun: false,
      skipVersionCheck: true,
      concurrency: atOnce,
      lockDuration: UNHEARD_OF_MS,
      lockRenewTime: HEARD_EVERY_MS,
      stalledInterval: UNHEARD_OF_MS,
      runRetryDelay: RETRY_MS,
    });
    // the log tells of it once, by the connection that requests use
    connection.on("error", ignore);
    this.#queue.on("error", ignore);
    this.#worker.on("error", ignore);
    void this.#takeJobs();
  }

  /** @throws what the work throws */
  async once<K extends keyof J & string>(name: K, input: InputOf<J[K]>): Promise<ResultOf<J[K]>> {
    const id = idOf(name, input);
    const done = await this.#elsewhere(name, input, id);
    if (done !== undefined) return done.value as ResultOf<J[K]>;
    const { run } = this.#jobs[name] as unknown as SharedJob<InputOf<J[K]>, ResultOf<J[K]>>;
    // this process may be at it already, for others
    const here = this.#underWay.get(id);
    return here === undefined ? run(input) : ((await here).value as ResultOf<J[K]>);
  }

  /** The worker's loop ends where a reply makes no sense to it. */
  async #takeJobs(): Promise<void> {
    while (this.#closing === undefined) {
      await this.#worker.run().catch((error: unknown) => this.#log.debug({ err: error }, "took no jobs for a moment"));
      await delay(RETRY_MS, undefined, { ref: false });
    }
  }

  /** Does a job from the queue. Where it throws the job is gone, and whoever waits for it does its own. */
  #take({ id, name, data }: Job): Promise<Done> {
    const job = Object.hasOwn(this.#jobs, name) ? this.#jobs[name] : undefined;
    const input: unknown = data;
    const doing = (async (): Promise<Done> => {
      if (job === undefined || id !== idOf(name, input) || !job.isInput(input)) throw new Error("not a job of ours");
      return { value: await job.run(input as never) };
    })();
    if (id === undefined) return doing;
    this.#underWay.set(id, doing);
    return doing.finally(() => this.#underWay.delete(id));
  }

  /** What the job came to, wherever it was done; undefined where that did not work out. */
  async #elsewhere(name: string, input: unknown, id: string): Promise<Done | undefined> {
    if (this.#closing !== undefined || this.#connection.status !== "ready" || !this.#breaker.admits()) return undefined;
    const sinceMs = performance.now();
    try {
      const found = await this.#handOver(name, input, id);
      this.#breaker.succeeded(sinceMs);
      return found;
    } catch (error) {
      this.#breaker.failed();
      this.#log.debug({ err: error, job: name }, "not done elsewhere");
      return undefined;
    }
  }

  /** @throws where Redis is late, says what makes no sense, or where nobody did it in time; undefined where the job failed */
  async #handOver(name: string, input: unknown, id: string): Promise<Done | undefined> {
    const sinceMs = performance.now();
    await inTime(this.#queue.add(name, input, { jobId: id }));
    for (let lookMs = FIRST_LOOK_MS; ; lookMs = Math.min(1.5 * lookMs, LONGEST_LOOK_MS)) {
      const here = this.#underWay.get(id);
      if (here !== undefined) {
        // how it failed is told by whoever does it again
        return here.catch(() => undefined);
      }
      const job = await inTime(Job.fromId(this.#queue, id));
      if (job === undefined) return undefined;
      if (job.finishedOn !== undefined) return this.#checked(name, job.returnvalue as unknown);
      const waitedMs = performance.now() - sinceMs;
      if (waitedMs > LONGEST_PATIENCE_MS || (waitedMs > PATIENCE_MS && !(await this.#isBeingDone(id)))) {
        throw new Error("nobody did it in time");
      }
      await delay(lookMs, undefined, { ref: false });
    }
  }

  /** Whether a worker was heard of when it last should have been: it renews its lock on the job. */
  async #isBeingDone(id: string): Promise<boolean> {
    const lockedForMs: unknown = await inTime(this.#connection.pttl(`${this.#queue.toKey(id)}:lock`));
    return typeof lockedForMs === "number" && lockedForMs > UNHEARD_OF_MS - HEARD_EVERY_MS - REDIS_PATIENCE_MS;
  }

  #checked(name: string, returned: unknown): Done {
    if (typeof returned === "object" && returned !== null) {
      const { value } = returned as Partial<Done>;
      if (this.#jobs[name]?.isResult(value)) return { value };
    }
    throw new Error("what came back is no result");
  }

  /** Takes nothing more, and finishes what this process took; Redis hears of it if it listens. */
  close(): Promise<void> {
    this.#closing ??= this.#close();
    return this.#closing;
  }

  async #close(): Promise<void> {
    const pausing = this.#worker.pause(true).catch(ignore);
    const underWay = [...this.#underWay.values()];
    await atMost(FINISHING_MS, Promise.allSettled(underWay));
    // where there is something to tell: a Redis that is silent is not waited for otherwise
    const closing = pausing.then(() => this.#worker.close(underWay.length === 0)).catch(ignore);
    if (underWay.length > 0) await atMost(TELLING_MS, closing);
    void this.#worker.disconnect().catch(ignore);
    this.#connection.disconnect();
  }
}

/** What a job came to, as it lies in Redis: a result may be undefined, which JSON has no word for. */
interface Done {
  readonly value?: unknown;
}

/** The same for the same job, so that a second one is not added. */
function idOf(name: string, input: unknown): string {
  return createHash("sha256")
    .update(JSON.stringify([name, input]))
    .digest("hex");
}

async function atMost(ms: number, promise: Promise<unknown>): Promise<void> {
  await Promise.race([promise, delay(ms, undefined, { ref: false })]);
}

/** @throws where Redis is late */
async function inTime<T>(promise: Promise<T>): Promise<T> {
  promise.catch(ignore);
  const late = Symbol("late");
  const first = await Promise.race([promise, delay(REDIS_PATIENCE_MS, late, { ref: false })]);
  if (first === late) throw new Error("Redis is late");
  return first as T;
}
