const FIRST_MS = 10_000;
const LONGEST_MS = 15 * 60_000;
/** Whatever a provider asks for, it is tried again within a day. */
const LONGEST_ASKED_MS = 24 * 3_600_000;

/** How long a provider that failed is left alone: twice as long with each failure in a row, or as long as it asks. */
export class Backoff {
  #failures = 0;
  #untilMs = Number.NEGATIVE_INFINITY;

  isOver(nowMs: number): boolean {
    return nowMs >= this.#untilMs;
  }

  succeeded(): void {
    this.#failures = 0;
  }

  failed(nowMs: number, requestedMs = 0): void {
    const usualMs = Math.min(LONGEST_MS, FIRST_MS * 2 ** this.#failures++);
    this.#untilMs = nowMs + Math.max(usualMs, Math.min(requestedMs, LONGEST_ASKED_MS));
  }
}

/** What a Retry-After field asks for [ms]: seconds or a date (RFC 9110, 10.2.3); 0 where it says nothing. */
export function retryAfterMs(field: string | null, nowMs: number): number {
  if (field === null) return 0;
  const seconds = Number(field);
  const ms = Number.isFinite(seconds) ? seconds * 1000 : Date.parse(field) - nowMs;
  return Number.isFinite(ms) ? Math.max(0, ms) : 0;
}
