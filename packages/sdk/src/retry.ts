export interface RetryOptions {
  /** Tries in all, the first included; 1 never tries again. */
  readonly attempts?: number;
  /** Longest wait before the first repetition [ms]; it doubles with each further one. */
  readonly baseDelayMs?: number;
  /** Longest wait before any repetition [ms]; a `Retry-After` beyond it ends the tries. */
  readonly maxDelayMs?: number;
}

// RFC 9110, section 15.6, and RFC 6585: states that pass by themselves
const PASSING = new Set([429, 502, 503, 504]);

/**
 * A fetch that tries again after network errors and passing states, with exponential backoff, full jitter and `Retry-After`.
 * That is safe here: every operation of the API is a calculation, and repeating one changes nothing.
 * Each try has `timeoutMs`, a stream of lines until it begins; the caller's abort signal ends all of them at once.
 */
export function retryingFetch(inner: typeof fetch, retry: RetryOptions, timeoutMs: number): typeof fetch {
  const { attempts = 3, baseDelayMs = 200, maxDelayMs = 5_000 } = retry;
  return async (input, init) => {
    const request = new Request(input, init);
    for (let attempt = 1; ; attempt++) {
      const last = attempt >= attempts;
      const timeout = AbortSignal.timeout(timeoutMs);
      const late = new AbortController();
      const cut = (): void => late.abort(timeout.reason);
      timeout.addEventListener("abort", cut);
      const signal = AbortSignal.any([request.signal, late.signal]);
      let waitMs = Math.random() * Math.min(maxDelayMs, baseDelayMs * 2 ** (attempt - 1));
      try {
        const response = await inner(new Request(last ? request : request.clone(), { signal }));
        if (response.headers.get("Content-Type")?.includes("ndjson")) timeout.removeEventListener("abort", cut);
        if (last || !PASSING.has(response.status)) return response;
        const askedMs = retryAfterMs(response.headers.get("Retry-After"));
        if (askedMs > maxDelayMs) return response;
        waitMs = Math.max(waitMs, askedMs);
        await response.body?.cancel();
      } catch (error) {
        if (last || request.signal.aborted) throw error;
      }
      await sleep(waitMs, request.signal);
    }
  };
}

function retryAfterMs(header: string | null): number {
  if (header === null) return 0;
  const seconds = Number(header);
  const ms = Number.isFinite(seconds) ? seconds * 1000 : Date.parse(header) - Date.now();
  return Number.isFinite(ms) ? Math.max(0, ms) : 0;
}

function sleep(ms: number, signal: AbortSignal): Promise<void> {
  return new Promise((resolve, reject) => {
    const timer = setTimeout(() => {
      signal.removeEventListener("abort", stop);
      resolve();
    }, ms);
    const stop = (): void => {
      clearTimeout(timer);
      reject(signal.reason);
    };
    signal.addEventListener("abort", stop, { once: true });
  });
}
