/** At once where the platform can say so, else after a timer's least time. */
const afterOthers: (resume: () => void) => void =
  typeof setImmediate === "function" ? (resume) => setImmediate(resume) : (resume) => setTimeout(resume, 0);

let last: Promise<void> = Promise.resolve();

/**
 * Lets everything else that waits be answered first. Those who ask go on one in each turn of the event loop, so that many pieces of work, each of them
 * short, do not add up to a long one.
 */
export function nextTurn(): Promise<void> {
  last = last.then(() => new Promise(afterOthers));
  return last;
}
