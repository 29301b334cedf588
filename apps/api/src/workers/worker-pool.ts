import { fileURLToPath } from "node:url";
import type { Worker } from "node:worker_threads";
import type { TerrainWork } from "@fieldstop/terrain";
import type { Logger } from "pino";
import { Piscina } from "piscina";
import { ProblemError } from "../problems/problem";
import type { JobInput, JobName, JobResult } from "./jobs";
import { type Outcome, resultOf } from "./outcome";
import { withTimeLimit } from "./time-limit";
import { WaitingList } from "./waiting-list";
import type { Task } from "./worker";

export interface WorkerPoolSettings {
  /** Worker threads. */
  readonly threads: number;
  /** How much may wait for a free one; default 64. */
  readonly queueLimit?: number;
  readonly log?: Pick<Logger, "warn" | "error">;
}

export interface RunOptions {
  /** Whether the job goes on with a request that was taken: then it waits however long the queue. */
  readonly continues?: boolean;
  /** Whose turn it takes; what is done for several clients takes the turns of one of its own. */
  readonly client?: string | undefined;
  /** Aborted where nobody wants the result any more: what waits is dropped, what runs is ended with its thread, and another thread is started. */
  readonly signal?: AbortSignal | undefined;
}

const DEFAULT_QUEUE_LIMIT = 64;
/** The client of what is done for several. */
const SHARED = "";
/** When to ask again [s]: what waits is mostly done by then. */
const RETRY_AFTER = "2";
/** A job that takes longer hangs: its thread is ended [ms]. */
const MAX_JOB_MS = 120_000;
/** Of one thread: a light map's or a tile's heights are shared memory, and not in it. */
const MAX_HEAP_MB = 512;

/**
 * Long work in worker threads, so that it never holds up the event loop. Threads start with the first job. One that crashes is replaced; what it was at
 * is done once more by another. Where more is asked for than there are threads, clients are served in turn.
 */
export class WorkerPool {
  readonly #settings: WorkerPoolSettings;
  readonly #taken = new Set<Promise<unknown>>();
  /** Each begins a job. */
  readonly #waiting = new WaitingList<() => void>();
  #running = 0;
  #pool: Piscina<Task, Outcome<unknown>> | undefined;
  #closing = false;

  constructor(settings: WorkerPoolSettings) {
    this.#settings = settings;
  }

  /**
   * Run a job in a thread.
   * @throws what the job throws; ProblemError where too much waits already; Error where the job crashed two threads, or where the signal is aborted
   */
  async run<K extends JobName>(
    name: K,
    input: JobInput<K>,
    { continues = false, client = SHARED, signal }: RunOptions = {},
  ): Promise<JobResult<K>> {
    if (this.#closing) throw unavailable("The service is stopping.");
    if (!continues && this.#isFull) throw unavailable("Too much long work is waiting already.");
    const taken = this.#runInTurn({ name, input }, client, signal);
    this.#taken.add(taken);
    try {
      return resultOf(await taken) as JobResult<K>;
    } finally {
      this.#taken.delete(taken);
    }
  }

  async #runInTurn(task: Task, client: string, signal: AbortSignal | undefined): Promise<Outcome<unknown>> {
    signal?.throwIfAborted();
    if (this.#running < this.#settings.threads) this.#running++;
    else await this.#turnOf(client, signal);
    try {
      return await withTimeLimit(MAX_JOB_MS, signal, (limit) => this.#runTwiceAtMost(task, limit));
    } finally {
      const begin = this.#waiting.next();
      if (begin === undefined) this.#running--;
      else begin();
    }
  }

  /**
   * Wait until a job ends and leaves its thread to this client.
   * @throws the reason of the signal
   */
  #turnOf(client: string, signal: AbortSignal | undefined): Promise<void> {
    return new Promise((resolve, reject) => {
      const giveUp = () => {
        this.#waiting.remove(client, begin);
        reject(signal?.reason as Error);
      };
      const begin = () => {
        signal?.removeEventListener("abort", giveUp);
        resolve();
      };
      signal?.addEventListener("abort", giveUp, { once: true });
      this.#waiting.add(client, begin);
    });
  }

  async #runTwiceAtMost(task: Task, signal: AbortSignal): Promise<Outcome<unknown>> {
    const { log } = this.#settings;
    const startedMs = performance.now();
    try {
      return await this.start().run(task, { signal });
    } catch (error) {
      const seconds = Math.round((performance.now() - startedMs) / 100) / 10;
      if (signal.aborted) {
        if (seconds >= 1) log?.warn({ job: task.name, seconds }, "a job was given up");
        throw error;
      }
      // jobs do not throw, they return an outcome: so it was the thread
      log?.error({ err: error, job: task.name, seconds }, "a worker thread ended; the job is done once more");
      return await this.start().run(task, { signal });
    }
  }

  get #isFull(): boolean {
    return this.waiting >= (this.#settings.queueLimit ?? DEFAULT_QUEUE_LIMIT);
  }

  /** The pool as what terrain gives its work to. */
  get terrainWork(): TerrainWork {
    return {
      scanHorizon: (job, signal) => this.run("scanHorizon", job, { continues: job.goesOn, signal }),
      // of a request that was taken, or shared by several, and of use to the next: never given up
      readTile: (job) => this.run("readTile", job, { continues: true }),
      prepareTile: (job) => this.run("prepareTile", job, { continues: true }),
      hasVoidsWithin: (job) => this.run("hasVoidsWithin", job, { continues: true }),
      fillFrom: (job) => this.run("fillFrom", job, { continues: true }),
    };
  }

  /** Start the threads, if they are not running: the first job does it otherwise. */
  start(): Piscina<Task, Outcome<unknown>> {
    this.#pool ??= this.#open();
    return this.#pool;
  }

  #open(): Piscina<Task, Outcome<unknown>> {
    const { threads, log } = this.#settings;
    const fromSource = import.meta.url.endsWith(".ts");
    const pool = new Piscina<Task, Outcome<unknown>>({
      filename: fileURLToPath(new URL(fromSource ? "./worker-from-source.mjs" : "./worker.js", import.meta.url)),
      name: "runTask",
      // as many at all times: one that crashed is replaced only up to the least number
      minThreads: threads,
      maxThreads: threads,
      resourceLimits: { maxOldGenerationSizeMb: MAX_HEAP_MB },
      ...(fromSource && { execArgv: ["--conditions=fieldstop-source"] }),
    });
    pool.on("error", (error) => log?.error({ err: error }, "worker threads"));
    return pool;
  }

  /** Whether the next job would be taken. */
  get takesWork(): boolean {
    return !this.#closing && !this.#isFull;
  }

  /** How many jobs wait for a free thread. */
  get waiting(): number {
    return this.#waiting.size;
  }

  /** The threads as they are now. */
  get threads(): readonly Worker[] {
    return this.#pool?.threads ?? [];
  }

  /** Take nothing more, finish what was taken, end the threads. */
  async close(): Promise<void> {
    this.#closing = true;
    await Promise.allSettled(this.#taken);
    await this.#pool?.destroy();
  }
}

function unavailable(detail: string): ProblemError {
  return new ProblemError("unavailable", { detail, headers: { "Retry-After": RETRY_AFTER } });
}
