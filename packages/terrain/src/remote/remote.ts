import { setTimeout as delay } from "node:timers/promises";
import type { ByteStore } from "../byte-store";
import { REMOTE_AGE_MS } from "./remote-age";

export interface RemoteOptions {
  /** How long one tile may take, all tries together [ms]; default 15 000. */
  readonly deadlineMs?: number;
  /** Tries for what may pass: no answer, 429, 5xx, half a body; default 3. */
  readonly tries?: number;
  /** Requests at the same time; default 8. */
  readonly concurrency?: number;
  /** Wait before the second try [ms], doubled each time; default 250. */
  readonly backoffMs?: number;
  readonly cache?: ByteStore;
}

/** A remote that did not give what it was asked for; the reason names no address, since it is shown to whoever asks. */
export class RemoteError extends Error {
  override readonly name = "RemoteError";
  readonly passing: boolean;
  readonly retryAfterMs: number;

  constructor(message: string, options: ErrorOptions & { passing: boolean; retryAfterMs?: number }) {
    super(message, options);
    this.passing = options.passing;
    this.retryAfterMs = options.retryAfterMs ?? 0;
  }
}

/** Bytes of a file. */
export interface ByteRange {
  readonly offset: number;
  readonly length: number;
}

export interface FetchOptions {
  /** Only this part of the file. */
  readonly range?: ByteRange;
  /** Tells that the file is no longer wanted: it is not asked for when its turn comes. */
  readonly signal?: AbortSignal;
}

export interface Received {
  readonly bytes: Uint8Array;
  /** What tells this version of the file from another, where the remote says. */
  readonly version: string;
}

// RFC 9110, 15.3.7: the answer to a range request
const PARTIAL = 206;
const NOT_THERE: ReadonlySet<number> = new Set([404, 410]);

/** Fetches files over HTTP: so many at once, each until its deadline, again where that may help. Those who ask alike share one answer. */
export class Remote {
  readonly cache: ByteStore | undefined;
  readonly #deadlineMs: number;
  readonly #tries: number;
  readonly #concurrency: number;
  readonly #backoffMs: number;
  readonly #inFlight = new Map<string, { signal: AbortSignal | undefined; received: Promise<Received | null> }>();
  readonly #waiting: (() => void)[] = [];
  #running = 0;
  /** When a remote last let a deadline pass, by host [ms]. */
  readonly #silentSince = new Map<string, number>();

  constructor(options: RemoteOptions = {}) {
    this.cache = options.cache;
    this.#deadlineMs = options.deadlineMs ?? 15_000;
    this.#tries = options.tries ?? 3;
    this.#concurrency = options.concurrency ?? 8;
    this.#backoffMs = options.backoffMs ?? 250;
  }

  /**
   * A file, or a part of it; null where the remote has none of that name.
   * @throws RemoteError where it does not answer, refuses, or answers something else
   */
  fetch(url: string, { range, signal }: FetchOptions = {}): Promise<Received | null> {
    const key = range === undefined ? url : `${url} ${range.offset} ${range.length}`;
    const under = this.#inFlight.get(key);
    // one that its asker has given up on may never be asked for
    if (under !== undefined && !under.signal?.aborted) return under.received;
    const entry = { signal, received: this.#inTurn(url, range, signal) };
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
  async fetchUnlessKept(url: string, signal?: AbortSignal): Promise<{ bytes: Uint8Array; isKept: boolean } | null> {
    const kept = (await this.cache?.get(url)) ?? null;
    const keptAtMs = kept === null ? null : await this.cache?.keptAtMs?.(url);
    if (kept !== null && Date.now() - (keptAtMs ?? Date.now()) <= REMOTE_AGE_MS) return { bytes: kept, isKept: true };
    try {
      const received = await this.fetch(url, signal && { signal });
      return received && { bytes: received.bytes, isKept: false };
    } catch (error) {
      if (kept !== null && error instanceof RemoteError) return { bytes: kept, isKept: true };
      throw error;
    }
  }

  async #inTurn(url: string, range: ByteRange | undefined, signal: AbortSignal | undefined): Promise<Received | null> {
    const { host } = new URL(url);
    const askedAt = performance.now();
    if (this.#running >= this.#concurrency) await new Promise<void>((resolve) => this.#waiting.push(resolve));
    else this.#running++;
    try {
      if (signal?.aborted)
        throw new RemoteError("not asked for after another tile could not be had", { passing: true });
      // those that queued behind a remote that says nothing need not each wait for it
      if ((this.#silentSince.get(host) ?? 0) > askedAt) throw silence(this.#deadlineMs);
      return await this.#untilDeadline(url, host, range);
    } finally {
      const next = this.#waiting.shift();
      if (next === undefined) this.#running--;
      else next();
    }
  }

  async #untilDeadline(url: string, host: string, range: ByteRange | undefined): Promise<Received | null> {
    const signal = AbortSignal.timeout(this.#deadlineMs);
    const until = performance.now() + this.#deadlineMs;
    for (let attempt = 1; ; attempt++) {
      try {
        return await once(url, range, signal);
      } catch (error) {
        if (signal.aborted) {
          this.#silentSince.set(host, performance.now());
          throw silence(this.#deadlineMs, error);
        }
        const fault = error instanceof RemoteError ? error : lost(error);
        const backoffMs = this.#backoffMs * 2 ** (attempt - 1) * (0.5 + Math.random());
        const waitMs = Math.max(backoffMs, fault.retryAfterMs);
        if (!fault.passing || attempt >= this.#tries || performance.now() + waitMs > until) throw fault;
        await delay(waitMs);
      }
    }
  }
}

const silence = (deadlineMs: number, cause?: unknown) =>
  new RemoteError(`the remote gave no whole answer within ${deadlineMs / 1000} s`, { passing: true, cause });

const lost = (cause: unknown) =>
  new RemoteError("the connection failed, or broke off in the middle of the answer", { passing: true, cause });

async function once(url: string, range: ByteRange | undefined, signal: AbortSignal): Promise<Received | null> {
  const headers = new Headers();
  if (range !== undefined) headers.set("Range", `bytes=${range.offset}-${range.offset + range.length - 1}`);
  const response = await fetch(url, { headers, signal });
  if (!response.ok || response.status === 204) {
    await response.body?.cancel();
    if (NOT_THERE.has(response.status)) return null;
    const passing = response.status === 429 || response.status >= 500;
    const retryAfterMs = 1000 * (Number(response.headers.get("retry-after")) || 0);
    throw new RemoteError(`the remote answered ${response.status}`, { passing, retryAfterMs });
  }
  const type = response.headers.get("content-type") ?? "";
  if (/^(text\/html|application\/xhtml|application\/json|application\/xml|text\/xml)/i.test(type)) {
    await response.body?.cancel();
    throw new RemoteError(`the remote answered ${type.split(";")[0]} in place of a tile`, { passing: false });
  }
  if (range !== undefined && response.status !== PARTIAL) {
    await response.body?.cancel();
    throw new RemoteError("the remote does not serve parts of files (HTTP ranges)", { passing: false });
  }
  const bytes = new Uint8Array(await response.arrayBuffer());
  if (range !== undefined) requireWhole(bytes, range, response.headers.get("content-range"));
  const version = response.headers.get("etag") ?? response.headers.get("last-modified") ?? "";
  return { bytes, version };
}

/** RFC 9110, 14.4: Content-Range; a part is shorter than asked for only where the file ends. */
function requireWhole(bytes: Uint8Array, { offset, length }: ByteRange, contentRange: string | null): void {
  const [, from, to, total] = /^bytes (\d+)-(\d+)\/(\d+|\*)$/.exec(contentRange ?? "") ?? [];
  const last =
    total === undefined || total === "*" ? offset + length - 1 : Math.min(offset + length, Number(total)) - 1;
  if (Number(from) === offset && Number(to) === last && bytes.length === last - offset + 1) return;
  throw new RemoteError("the remote answered another part of the file than was asked for", { passing: true });
}
