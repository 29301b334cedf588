/** Something that several callers wait for: the work goes on for as long as one of them does, and is given up with the last. */
export class SharedResult<T> {
  readonly #result: Promise<T>;
  readonly #giveUp = new AbortController();
  #waiting = 0;

  /** @param work begins at once; told by the signal when nobody waits for it any more */
  constructor(work: (signal: AbortSignal) => Promise<T>) {
    this.#result = work(this.#giveUp.signal);
    // callers still waiting get the error; with none left it must not become an unhandled rejection
    this.#result.catch(() => undefined);
  }

  /** Whether everybody went before it was there. */
  get isGivenUp(): boolean {
    return this.#giveUp.signal.aborted;
  }

  /**
   * The result, waited for until the signal of this caller is aborted; then the others wait on.
   * @throws what the work throws; the reason of the signal
   */
  async wait(signal?: AbortSignal): Promise<T> {
    signal?.throwIfAborted();
    this.#waiting++;
    try {
      return await untilAborted(this.#result, signal);
    } catch (error) {
      if (signal?.aborted && this.#waiting === 1) this.#giveUp.abort(signal.reason);
      throw error;
    } finally {
      this.#waiting--;
    }
  }
}

/** Wait for what a promise settles to, unless the signal is aborted before: the work behind it goes on. */
export async function untilAborted<T>(promise: Promise<T>, signal: AbortSignal | undefined): Promise<T> {
  if (signal === undefined) return promise;
  signal.throwIfAborted();
  let stop: () => void = () => {};
  const aborted = new Promise<never>((_, reject) => {
    stop = () => reject(signal.reason as Error);
    signal.addEventListener("abort", stop, { once: true });
  });
  try {
    return await Promise.race([promise, aborted]);
  } finally {
    signal.removeEventListener("abort", stop);
  }
}
