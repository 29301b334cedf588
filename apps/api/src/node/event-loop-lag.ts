const LOOKED_AT_EACH_MS = 50;

/** One late look is one long task; as many as this in a row are more work than there is time for. */
const LOOKS = 3;

/** How late the event loop runs time after time [ms]: what each request waits before anyone looks at it. */
export class EventLoopLag {
  #dueMs = performance.now() + LOOKED_AT_EACH_MS;
  readonly #late = new Array<number>(LOOKS).fill(0);

  constructor() {
    setInterval(() => {
      const nowMs = performance.now();
      this.#late.shift();
      this.#late.push(Math.max(0, nowMs - this.#dueMs));
      this.#dueMs = nowMs + LOOKED_AT_EACH_MS;
    }, LOOKED_AT_EACH_MS).unref();
  }

  get ms(): number {
    return Math.min(...this.#late);
  }
}
