import { setTimeout } from "node:timers/promises";

/** How long a worker rests where requests come, at least and at most [ms]. */
const LEAST_REST_MS = 1;
const MOST_REST_MS = 3;
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
 * core free, the longer the more of them come. A system puts a thread on a core that is free sooner than on one that does even the least important work,
 * so that without rests the event loop, its helpers and whoever calls from the same machine would wait for one another on one core while a worker had
 * another to itself; and two threads at work slow each other down, by the caches and often the very core that they share.
 */
export function givingWay(requests: RequestCount): () => Promise<void> {
  let seen = requests.count;
  let lookedMs = performance.now();
  let cameMs = Number.NEGATIVE_INFINITY;
  let restMs = LEAST_REST_MS;
  return async () => {
    const nowMs = performance.now();
    const { count } = requests;
    if (count !== seen) {
      // a millisecond for each that came in one
      const perMs = (count - seen) / (nowMs - lookedMs);
      restMs = Math.max(LEAST_REST_MS, Math.min(MOST_REST_MS, Math.round(perMs)));
      seen = count;
      cameMs = nowMs;
    }
    lookedMs = nowMs;
    if (nowMs - cameMs < COMING_MS) await setTimeout(restMs);
  };
}
