import pLimit, { type LimitFunction } from "p-limit";

/** Lets what bears the same name run one after another. */
export class QueuesByName {
  readonly #queues = new Map<string, LimitFunction>();

  run<T>(name: string, run: () => Promise<T>): Promise<T> {
    let queue = this.#queues.get(name);
    if (queue === undefined) {
      queue = pLimit(1);
      this.#queues.set(name, queue);
    }
    return queue(run);
  }
}
