/** Lets at most `most` of the tasks given to it run at once; the others wait in the order in which they came. */
export function inTurn(most: number): <T>(task: () => Promise<T>) => Promise<T> {
  const waiting: (() => void)[] = [];
  let running = 0;
  return async (task) => {
    if (running >= most) await new Promise<void>((start) => waiting.push(start));
    else running++;
    try {
      return await task();
    } finally {
      // the place goes straight to the next in line, so that nobody slips in between
      const next = waiting.shift();
      if (next === undefined) running--;
      else next();
    }
  };
}
