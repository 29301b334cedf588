import { setTimeout as delay } from "node:timers/promises";
import pLimit from "p-limit";
import type { ByteStore } from "../byte-store";
import { type ByteRange, type Received, receive } from "./receive";
import { REMOTE_AGE_MS } from "./remote-age";
import { RemoteError } from "./remote-error";
import type { SourceState, Turn } from "./source-state";

export interface RemoteOptions {
  /** How long one tile may take, all tries together [ms]; default 15 000. */
  readonly deadlineMs?: number;
  /** Tries for what may pass: no answer, 429, 5xx, half a body; default 3. */
  readonly tries?: number;
  /** Requests to one source at the same time; default 8. */
  readonly concurrency?: number;
  /** Wait before the second try [ms], doubled each time; default 250. */
  readonly backoffMs?: number;
  /** How long a source that cannot be reached is left alone at first [ms], doubled to ten times as long; default 30 000. */
  readonly restMs?: number;
  readonly cache?: ByteStore;
}

export interface FetchOptions {
  /** Only this part of the file. */
  readonly range?: ByteRange;
  /** Most that the file or the part may come to, unpacked [B]. */
  readonly mostBytes: number;
  /** Aborted when the file is no longer wanted: a request still in the queue is then not sent. */
  readonly signal?: AbortSignal | undefined;
}

/** How long a request waits to see whether a source is back [ms]: a longer look goes on beside it. */
const PROBE_WAIT_MS = 1000;

/**
 * Fetches the files of one source over HTTP: so many at once, each until its deadline, again where that may help. Those who ask alike
 * share one answer. A source that cannot be reached is left alone for a while.
 */
export class Remote {
  readonly cache: ByteStore | undefined;
  readonly #deadlineMs: number;
  readonly #tries: number;
  readonly #backoffMs: number;
  readonly #restMs: number;
  readonly #inTurn: ReturnType<typeof pLimit>;
  readonly #source: SourceState;
  readonly #inFlight = new Map<string, { signal: AbortSignal | undefined; received: Promise<Received | null> }>();
  /** When it last let a deadline pass [ms]. */
  #silentSince = 0;

  constructor(source: SourceState, options: RemoteOptions = {}) {
    this.cache = options.cache;
    this.#source = source;
    this.#deadlineMs = options.deadlineMs ?? 15_000;
    this.#tries = options.tries ?? 3;
    this.#backoffMs = options.backoffMs ?? 250;
    this.#restMs = options.restMs ?? 30_000;
    this.#inTurn = pLimit(options.concurrency ?? 8);
  }

  /**
   * A file, or a part of it; null where the remote has none of that name.
   * @throws RemoteError where it does not answer, refuses, or answers something else
   */
  fetch(url: string, options: FetchOptions): Promise<Received | null> {
    const { range, signal } = options;
    const key = range === undefined ? url : `${url} ${range.offset} ${range.length}`;
    const under = this.#inFlight.get(key);
    // a queued request whose caller has gone is not sent
    if (under !== undefined && !under.signal?.aborted) return under.received;
    const requestedAtMs = performance.now();
    const entry = { signal, received: this.#inTurn(() => this.#ask(url, options, requestedAtMs)) };
    this.#inFlight.set(key, entry);
    const settle = () => {
      if (this.#inFlight.get(key) === entry) this.#inFlight.delete(key);
    };
    entry.received.then(settle, settle);
    return entry.received;
  }

  /**
   * A whole file, from the cache unless it has lain there too long; from there all the same where the remote cannot be had. Null where
   * the remote has none of that name.
   * @throws RemoteError as for fetching
   */
  async fetchUnlessKept(
    url: string,
    options: { readonly mostBytes: number; readonly signal?: AbortSignal },
  ): Promise<{ bytes: Uint8Array; isKept: boolean } | null> {
    const kept = (await this.cache?.get(url)) ?? null;
    const keptAtMs = kept === null ? null : await this.cache?.keptAtMs?.(url);
    if (kept !== null && Date.now() - (keptAtMs ?? Date.now()) <= REMOTE_AGE_MS) return { bytes: kept, isKept: true };
    try {
      const received = await this.fetch(url, options);
      return received && { bytes: received.bytes, isKept: false };
    } catch (error) {
      if (kept !== null && error instanceof RemoteError) return { bytes: kept, isKept: true };
      throw error;
    }
  }

  async #ask(url: string, options: FetchOptions, requestedAtMs: number): Promise<Received | null> {
    if (options.signal?.aborted) {
      throw new RemoteError("not asked for after another tile could not be had", { transient: true });
    }
    const turn = this.#source.turn();
    if (turn === "leave") throw leftAlone();
    if (turn === "ask") {
      // those that queued behind a remote that says nothing need not each wait for it
      if (this.#silentSince > requestedAtMs) throw silence(this.#deadlineMs);
      return this.#noting(turn, this.#untilDeadline(url, options, this.#tries));
    }
    const probe = this.#noting(turn, this.#untilDeadline(url, options, 1));
    const waited = delay(PROBE_WAIT_MS, undefined, { ref: false }).then(() => {
      throw leftAlone();
    });
    // whichever comes second is heard by nobody
    probe.catch(() => undefined);
    waited.catch(() => undefined);
    return Promise.race([probe, waited]);
  }

  /** Notes whether the source could be reached: one that refuses could. */
  async #noting(turn: Turn, answer: Promise<Received | null>): Promise<Received | null> {
    try {
      const received = await answer;
      this.#source.reached();
      return received;
    } catch (error) {
      if (!(error instanceof RemoteError && error.transient)) this.#source.reached();
      else this.#source.failed(turn, error.message, this.#restMs);
      throw error;
    }
  }

  async #untilDeadline(url: string, { range, mostBytes }: FetchOptions, tries: number): Promise<Received | null> {
    const signal = AbortSignal.timeout(this.#deadlineMs);
    const until = performance.now() + this.#deadlineMs;
    for (let attempt = 1; ; attempt++) {
      try {
        return await receive(url, { range, mostBytes, signal });
      } catch (error) {
        if (signal.aborted) {
          this.#silentSince = performance.now();
          throw silence(this.#deadlineMs, error);
        }
        const fault = error instanceof RemoteError ? error : lost(error);
        const backoffMs = this.#backoffMs * 2 ** (attempt - 1) * (0.5 + Math.random());
        const waitMs = Math.max(backoffMs, fault.retryAfterMs);
        if (!fault.transient || attempt >= tries || performance.now() + waitMs > until) throw fault;
        await delay(waitMs);
        // others have found out meanwhile
        if (this.#source.state === "away") throw fault;
      }
    }
  }
}

const leftAlone = () =>
  new RemoteError("the remote could not be reached, and is left alone for a while", { transient: true });

const silence = (deadlineMs: number, cause?: unknown) =>
  new RemoteError(`the remote gave no whole answer within ${deadlineMs / 1000} s`, { transient: true, cause });

const lost = (cause: unknown) =>
  new RemoteError("the connection failed, or broke off in the middle of the answer", { transient: true, cause });
