/** Failures that open the breaker; some successes make up for one. */
const FAILURES = 3;
const FORGIVEN_BY_SUCCESS = 0.1;
const FIRST_REST_MS = 5000;
const LONGEST_REST_MS = 60_000;

/**
 * A circuit breaker: after a few failures what fails is left alone for a while, then one call tries whether it works again. If it does
 * but soon fails again, the next rest is twice as long.
 */
export class Breaker {
  readonly #nowMs: () => number;
  #failures = 0;
  #restMs = FIRST_REST_MS;
  #openedAtMs = Number.NEGATIVE_INFINITY;
  /** When the next call may try; undefined while closed. */
  #tryAtMs: number | undefined;

  /** @param nowMs a clock that only goes forward */
  constructor(nowMs: () => number = () => performance.now()) {
    this.#nowMs = nowMs;
  }

  get isOpen(): boolean {
    return this.#tryAtMs !== undefined;
  }

  /** Whether a call may be made now. While open, one may after each rest. */
  admits(): boolean {
    if (this.#tryAtMs === undefined) return true;
    const nowMs = this.#nowMs();
    if (nowMs < this.#tryAtMs) return false;
    this.#tryAtMs = nowMs + this.#restMs;
    return true;
  }

  /** @param madeAtMs when the call was made: one from before the breaker opened does not close it */
  succeeded(madeAtMs: number): void {
    if (madeAtMs < this.#openedAtMs) return;
    if (this.isOpen) {
      this.#tryAtMs = undefined;
      this.#failures = FAILURES - 1;
      this.#restMs = Math.min(2 * this.#restMs, LONGEST_REST_MS);
      return;
    }
    this.#failures = Math.max(0, this.#failures - FORGIVEN_BY_SUCCESS);
    if (this.#failures === 0) this.#restMs = FIRST_REST_MS;
  }

  failed(): void {
    this.#failures++;
    if (this.#failures >= FAILURES) this.open();
  }

  /** Open it at once: no doubt is left. */
  open(): void {
    if (this.isOpen) return;
    const nowMs = this.#nowMs();
    this.#openedAtMs = nowMs;
    this.#tryAtMs = nowMs + this.#restMs;
  }
}
