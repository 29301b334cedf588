import { setTimeout } from "node:timers/promises";

/** How long a worker rests where requests come [ms]. */
const REST_MS = 1;
/** Requests come where the last one came within this [ms]: more than a system lets a worker keep the event loop from its core, and so from counting. */
const COMING_MS = 10;

/** Requests that came, counted where the event loop and all workers see it. */
export class RequestCount {
  /** What a worker is given, to count by. */
  readonly shared: Int32Array<ArrayBufferLike>;

  constructor(
    shared: Int32Array<ArrayBufferLike> = new Int32Array(new SharedArrayBuffer(Int32Array.BYTES_PER_ELEMENT)),
  ) {
    this.shared = shared;
  }

  add(): void {
    Atomics.add(this.shared, 0, 1);
  }

  get count(): number {
    return Atomics.load(this.shared, 0);
  }
}

/**
 * For one piece of long work to wait for between two slices of it: at once where no requests come but those before it; else a short rest, which leaves a
 * core free. A system puts a thread on a core that is free sooner than on one that does even the least important work, so that without rests the event
 * loop, its helpers and whoever calls from the same machine would wait for one another on one core while a worker had another to itself.
 */
export function givingWay(requests: RequestCount): () => Promise<void> {
  let seen = requests.count;
  let lastMs = Number.NEGATIVE_INFINITY;
  return async () => {
    const { count } = requests;
    if (count !== seen) {
      seen = count;
      lastMs = performance.now();
    }
    if (performance.now() - lastMs < COMING_MS) await setTimeout(REST_MS);
  };
}
