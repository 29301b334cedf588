import { ProblemError } from "../problems/problem";

/** When to come back [s]: what is held is mostly reviewed by then. */
export const RETRY_AFTER_SECONDS = "5";

/** The share of one form. */
export interface FormShare {
  /** @throws ProblemError where all forms together would hold too much */
  readonly take: (bytes: number) => void;
  /** Return all that was taken. */
  readonly release: () => void;
}

/** Counts the bytes of forms in memory, over all callers. */
export class FormMemory {
  readonly #maxBytes: number;
  #heldBytes = 0;

  constructor(maxBytes: number) {
    this.#maxBytes = maxBytes;
  }

  share(): FormShare {
    let taken = 0;
    return {
      take: (bytes) => {
        if (this.#heldBytes + bytes > this.#maxBytes) {
          const detail = "As many forms are in memory as fit; try again shortly.";
          throw new ProblemError("unavailable", { detail, headers: { "Retry-After": RETRY_AFTER_SECONDS } });
        }
        this.#heldBytes += bytes;
        taken += bytes;
      },
      release: () => {
        this.#heldBytes -= taken;
        taken = 0;
      },
    };
  }
}
