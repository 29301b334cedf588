import pLimit from "p-limit";
import type { Step } from "../delivery/attempt";

// setTimeout knows no longer wait
const LONGEST_TIMER_MS = 2 ** 31 - 1;

/** The deliveries that this process has in hand: some on their way, the others waiting for their next try. */
export class InHand {
  readonly #limit: <T>(run: () => Promise<T>) => Promise<T>;
  readonly #timers = new Map<string, NodeJS.Timeout>();
  readonly #keys = new Set<string>();
  readonly #idle = new Set<() => void>();
  #moving = 0;

  constructor(
    concurrency: number,
    private readonly tryOnce: (key: string) => Promise<Step>,
    private readonly failed: (error: unknown) => void,
    private readonly signal: AbortSignal,
  ) {
    this.#limit = pLimit(concurrency);
  }

  /** Takes a delivery in hand, unless it is already. */
  take(key: string, waitMs: number): void {
    if (this.#keys.has(key) || this.signal.aborted) return;
    this.#keys.add(key);
    this.#wait(key, waitMs);
  }

  get size(): number {
    return this.#keys.size;
  }

  /** Resolves when nothing is on its way; with `all`, when nothing waits either. */
  async settled(all: boolean): Promise<void> {
    while (this.#moving > 0 || (all && this.#keys.size > 0 && !this.signal.aborted)) {
      await new Promise<void>((resolve) => this.#idle.add(resolve));
    }
  }

  /** Lets go of all that waits: the ledger keeps it. */
  letGo(): void {
    for (const [key, timer] of this.#timers) {
      clearTimeout(timer);
      this.#keys.delete(key);
    }
    this.#timers.clear();
    this.#tell();
  }

  #wait(key: string, waitMs: number): void {
    if (waitMs <= 0) {
      this.#start(key);
      return;
    }
    const again = (): void => {
      this.#timers.delete(key);
      this.#start(key);
    };
    this.#timers.set(key, setTimeout(again, Math.min(waitMs, LONGEST_TIMER_MS)));
  }

  #start(key: string): void {
    this.#moving++;
    this.#limit(() => (this.signal.aborted ? Promise.resolve<Step>({ kind: "settled" }) : this.tryOnce(key)))
      .then((step) => {
        if (step.kind === "later" && !this.signal.aborted) this.#wait(key, Math.max(1, step.atMs - Date.now()));
        else this.#keys.delete(key);
      })
      .catch((error) => {
        this.#keys.delete(key);
        this.failed(error);
      })
      .finally(() => {
        this.#moving--;
        this.#tell();
      });
  }

  #tell(): void {
    for (const resolve of this.#idle) resolve();
    this.#idle.clear();
  }
}
