const LOOKED_AT_EACH_MS = 50;

/** How late the event loop runs [ms]: the time that a request waits before anyone looks at it. */
export class EventLoopLag {
  #dueMs = performance.now() + LOOKED_AT_EACH_MS;
  #lagMs = 0;

  constructor() {
    setInterval(() => {
      const nowMs = performance.now();
      this.#lagMs = Math.max(0, nowMs - this.#dueMs);
      this.#dueMs = nowMs + LOOKED_AT_EACH_MS;
    }, LOOKED_AT_EACH_MS).unref();
  }

  get ms(): number {
    return this.#lagMs;
  }
}
