/** Yields to the event loop. */
const nextTurn = (): Promise<void> =>
  new Promise((resume) => (typeof setImmediate === "function" ? setImmediate(resume) : setTimeout(resume, 0)));

/**
 * Results of many tasks in the order in which they are ready. Never more than `atOnce` are under way or waiting to be taken, so that what nobody reads is
 * not worked out; once the reader stops, no further task begins. Before each task others get their turn.
 */
export async function* asReady<T>(
  tasks: Iterable<() => Promise<T>>,
  atOnce: number,
): AsyncGenerator<T, void, undefined> {
  const left = tasks[Symbol.iterator]();
  const underWay = new Map<number, Promise<{ readonly key: number; readonly result: T }>>();
  let stopped = false;
  // one in each turn of the event loop
  let turn = Promise.resolve();
  const start = async (task: () => Promise<T>, key: number) => {
    turn = turn.then(nextTurn);
    await turn;
    if (stopped) throw new Error("nobody reads any more");
    return { key, result: await task() };
  };
  try {
    for (let key = 0, exhausted = false; ; ) {
      while (!exhausted && underWay.size < atOnce) {
        const next = left.next();
        if (next.done) exhausted = true;
        else {
          const running = start(next.value, key);
          // those that nobody waits for any more may fail unheard
          running.catch(() => undefined);
          underWay.set(key++, running);
        }
      }
      if (underWay.size === 0) return;
      const ready = await Promise.race(underWay.values());
      underWay.delete(ready.key);
      yield ready.result;
    }
  } finally {
    stopped = true;
  }
}
