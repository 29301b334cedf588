/** At once where the platform can say so, else after a timer's least time. */
const afterOthers: (resume: () => void) => void =
  typeof setImmediate === "function" ? (resume) => setImmediate(resume) : (resume) => setTimeout(resume, 0);

let last: Promise<void> = Promise.resolve();

/**
 * Lets everything else that waits have its turn, so that a piece of work that takes long never holds it up. Those who ask go on one in each turn of the
 * event loop, so that many pieces of work, each of them short, do not add up to a long one.
 * @throws the reason of the signal where nobody waits for the answer any more
 */
export async function othersTurn(signal?: AbortSignal): Promise<void> {
  last = last.then(() => new Promise(afterOthers));
  await last;
  signal?.throwIfAborted();
}
