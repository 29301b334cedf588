/** At once where the platform can say so, else after a timer's least time. */
const afterOthers: (resume: () => void) => void =
  typeof setImmediate === "function" ? (resume) => setImmediate(resume) : (resume) => setTimeout(resume, 0);

/**
 * Lets everything else that waits have its turn, so that a piece of work that takes long never holds it up.
 * @throws the reason of the signal where nobody waits for the answer any more
 */
export async function othersTurn(signal: AbortSignal | undefined): Promise<void> {
  await new Promise<void>(afterOthers);
  signal?.throwIfAborted();
}
