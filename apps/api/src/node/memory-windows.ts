import type { Taken } from "../policies/rate-limit";

interface Window {
  spent: number;
  readonly endsAtMs: number;
}

interface Limit {
  readonly points: number;
  readonly windowSeconds: number;
}

/**
 * What clients spend of one process alone, in windows that begin with their first request. Counted at once: a library that answers by promises costs
 * more here than all other policies of a request.
 */
export class MemoryWindows {
  readonly #points: number;
  readonly #windowMs: number;
  readonly #nowMs: () => number;
  readonly #windows = new Map<string, Window>();
  #sweptAtMs: number;

  constructor({ points, windowSeconds }: Limit, nowMs: () => number) {
    this.#points = points;
    this.#windowMs = 1000 * windowSeconds;
    this.#nowMs = nowMs;
    this.#sweptAtMs = nowMs();
  }

  take(client: string, cost: number): Taken {
    const nowMs = this.#nowMs();
    if (nowMs - this.#sweptAtMs >= this.#windowMs) this.#sweep(nowMs);
    let window = this.#windows.get(client);
    if (window === undefined || window.endsAtMs <= nowMs) {
      window = { spent: 0, endsAtMs: nowMs + this.#windowMs };
      this.#windows.set(client, window);
    }
    window.spent += cost;
    return {
      allowed: window.spent <= this.#points,
      remaining: Math.max(0, this.#points - window.spent),
      resetSeconds: Math.max(1, Math.ceil((window.endsAtMs - nowMs) / 1000)),
    };
  }

  /** How many clients are known. */
  get size(): number {
    return this.#windows.size;
  }

  /** Forgets whose window is over, so that there are never more than came within two windows. */
  #sweep(nowMs: number): void {
    for (const [client, { endsAtMs }] of this.#windows) if (endsAtMs <= nowMs) this.#windows.delete(client);
    this.#sweptAtMs = nowMs;
  }
}
