import { ProblemError } from "../../problems/problem";

/** When to ask again where all streams are taken [s]. */
const RETRY_AFTER = "5";

/** Bounds how many streams are open: each holds the places that it has still to compute, up to a megabyte of text, for as long as its reader takes. */
export class StreamSlots {
  readonly #most: { readonly total: number; readonly perClient: number };
  readonly #open = new Map<string, number>();
  #total = 0;

  constructor(most: { readonly total: number; readonly perClient: number }) {
    this.#most = most;
  }

  /**
   * Take a slot for a client's stream.
   * @returns gives the slot back; calls after the first change nothing
   * @throws ProblemError where all slots are taken
   */
  take(client: string): () => void {
    const own = this.#open.get(client) ?? 0;
    if (this.#total >= this.#most.total || own >= this.#most.perClient) {
      const detail = "As many streams are open as the service holds at once; try again when one has ended.";
      throw new ProblemError("unavailable", { detail, headers: { "Retry-After": RETRY_AFTER } });
    }
    this.#total++;
    this.#open.set(client, own + 1);
    let isOpen = true;
    return () => {
      if (!isOpen) return;
      isOpen = false;
      this.#total--;
      const left = (this.#open.get(client) ?? 1) - 1;
      if (left === 0) this.#open.delete(client);
      else this.#open.set(client, left);
    };
  }
}
