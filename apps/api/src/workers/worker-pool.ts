import { fileURLToPath } from "node:url";
import type { Worker } from "node:worker_threads";
import type { TerrainWork } from "@fieldstop/terrain";
import { Piscina } from "piscina";
import { ProblemError } from "../problems/problem";
import { RequestCount } from "./give-way";
import type { JobInput, JobName, JobResult } from "./jobs";
import { type Outcome, resultOf } from "./outcome";
import type { Task, WorkerSettings } from "./worker";

export interface WorkerPoolSettings {
  /** Worker threads. */
  readonly threads: number;
  /** How much may wait for a free one; default 64. */
  readonly queueLimit?: number;
  /** Nothing more is taken where something taken was not done for so long [ms], but for what the first job loads; default without limit. */
  readonly longestWaitMs?: number;
  /** Whether each job is short, and somebody waits for it: then its thread need not leave the cores to all others; default false. */
  readonly inARequest?: boolean;
  /** Told of each worker that ends before its time. */
  readonly onCrash?: (error: unknown) => void;
}

export interface RunOptions {
  /** Whether the job goes on with work that was taken: then it waits however long the queue. */
  readonly goesOn?: boolean;
  /** Aborted where nobody wants the result any more: what waits is dropped, what runs is ended with its thread, and another thread is started. */
  readonly signal?: AbortSignal | undefined;
}

const DEFAULT_QUEUE_LIMIT = 64;
/** When to ask again [s]: what waits is mostly gone by then. */
const RETRY_AFTER = "2";
const TASK = "runTask";

/**
 * Long work in worker threads, so that it never holds up the event loop. They start with the first job. A worker that crashes is
 * replaced; what it was at is done once more by another.
 */
export class WorkerPool {
  readonly #settings: WorkerPoolSettings;
  /** What was taken and is not done, in that order, and since when [ms]. */
  readonly #taken = new Map<Promise<unknown>, number>();
  readonly #requests = new RequestCount();
  #pool: Piscina<Task, Outcome<unknown>> | undefined;
  #closing = false;
  /** Whether a job was done, and so all is loaded that the others need as well. */
  #isLoaded = false;

  constructor(settings: WorkerPoolSettings) {
    this.#settings = settings;
  }

  /**
   * @throws what the job throws; ProblemError where too much waits already; Error where the job crashed two workers, or where the signal
   *   is aborted
   */
  async run<K extends JobName>(
    name: K,
    input: JobInput<K>,
    { goesOn = false, signal }: RunOptions = {},
  ): Promise<JobResult<K>> {
    if (this.#closing) throw unavailable("The service is stopping.");
    const pool = this.start();
    if (!goesOn && this.#isFull) {
      throw unavailable("Too much long work is waiting already.");
    }
    const taken = this.#runTwiceAtMost(pool, { name, input }, signal);
    this.#taken.set(taken, performance.now());
    try {
      return resultOf(await taken) as JobResult<K>;
    } finally {
      this.#taken.delete(taken);
      this.#isLoaded = true;
    }
  }

  get #isFull(): boolean {
    const { queueLimit = DEFAULT_QUEUE_LIMIT, longestWaitMs = Number.POSITIVE_INFINITY } = this.#settings;
    const [oldestMs = Number.POSITIVE_INFINITY] = this.#taken.values();
    return this.waiting >= queueLimit || (this.#isLoaded && performance.now() - oldestMs > longestWaitMs);
  }

  async #runTwiceAtMost(
    pool: Piscina<Task, Outcome<unknown>>,
    task: Task,
    signal: AbortSignal | undefined,
  ): Promise<Outcome<unknown>> {
    const options = signal && { signal };
    try {
      return await pool.run(task, options);
    } catch (error) {
      if (signal?.aborted) throw error;
      // jobs do not throw, they tell: so it was the worker
      this.#settings.onCrash?.(error);
      return await pool.run(task, options);
    }
  }

  /** The pool as what terrain gives its work to. */
  get terrainWork(): TerrainWork {
    return {
      scanHorizon: (job, signal) => this.run("scanHorizon", job, { goesOn: job.goesOn, signal }),
      // of a request that was taken, or shared by several, and of use to the next: never given up
      readTile: (job) => this.run("readTile", job, { goesOn: true }),
      prepareTile: (job) => this.run("prepareTile", job, { goesOn: true }),
      hasVoidsWithin: (job) => this.run("hasVoidsWithin", job, { goesOn: true }),
      fillFrom: (job) => this.run("fillFrom", job, { goesOn: true }),
    };
  }

  /** A request came to the event loop: long work gives way to it. */
  giveWay(): void {
    this.#requests.add();
  }

  /** Starts the threads, if they are not running: the first job does it otherwise. */
  start(): Piscina<Task, Outcome<unknown>> {
    this.#pool ??= this.#open();
    return this.#pool;
  }

  #open(): Piscina<Task, Outcome<unknown>> {
    const { threads, inARequest = false, onCrash } = this.#settings;
    const fromSource = import.meta.url.endsWith(".ts");
    const pool = new Piscina<Task, Outcome<unknown>>({
      filename: fileURLToPath(new URL(fromSource ? "./worker-from-source.mjs" : "./worker.js", import.meta.url)),
      name: TASK,
      workerData: { requests: this.#requests.shared, inARequest } satisfies WorkerSettings,
      // as many at all times: one that crashed is replaced only up to the least number
      minThreads: threads,
      maxThreads: threads,
      ...(fromSource && { execArgv: ["--conditions=fieldstop-source"] }),
    });
    pool.on("error", (error) => onCrash?.(error));
    return pool;
  }

  /** Whether the next job would be taken. */
  get takesWork(): boolean {
    return !this.#closing && !this.#isFull;
  }

  /** How many jobs wait for a free thread. */
  get waiting(): number {
    return this.#pool?.queueSize ?? 0;
  }

  /** The threads as they are now. */
  get threads(): readonly Worker[] {
    return this.#pool?.threads ?? [];
  }

  /** Takes nothing more, finishes what was taken, ends the threads. */
  async close(): Promise<void> {
    this.#closing = true;
    await Promise.allSettled(this.#taken.keys());
    await this.#pool?.destroy();
  }
}

function unavailable(detail: string): ProblemError {
  return new ProblemError("unavailable", { detail, headers: { "Retry-After": RETRY_AFTER } });
}
