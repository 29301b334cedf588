/** At once where the platform can say so, else after a timer's least time. */
const afterOthers: (goOn: () => void) => void =
  typeof setImmediate === "function" ? (goOn) => setImmediate(goOn) : (goOn) => setTimeout(goOn, 0);

/** What those who go on may take of a turn before the next of them is left to the turn after [ms]. */
const TURN_MS = 5;

/** Who asked first is first. */
const waiting: (() => void)[] = [];
/** Until when others may go on in this turn [ms]; 0 before the first does. */
let untilMs = 0;

/**
 * Lets everything else that waits have its turn, so that a piece of work that takes long never holds it up. Those who ask go on in the order in which
 * they did, one in each turn of the event loop and others as long as they take little together: many pieces of work do not add up to a long one, and
 * yet are done sooner than new ones are begun.
 * @throws the reason of the signal where nobody waits for the answer any more
 */
export async function othersTurn(signal?: AbortSignal): Promise<void> {
  await new Promise<void>((resume) => {
    waiting.push(resume);
    afterOthers(goOn);
  });
  signal?.throwIfAborted();
}

/** As often in a turn as there were those who asked before it. */
function goOn(): void {
  const nowMs = performance.now();
  if (untilMs === 0) {
    untilMs = nowMs + TURN_MS;
    // what is begun in this turn and what is left of it comes after, in the next
    afterOthers(() => {
      untilMs = 0;
    });
  }
  if (nowMs < untilMs) waiting.shift()?.();
  else afterOthers(goOn);
}
