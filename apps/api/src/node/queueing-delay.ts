/** Longest that a request may wait within a turn of the event loop while there are more than can be answered [ms]. */
const SHORT_MS = 100;
/** Turns may be longer for this long, as after a burst, before that holds [ms]. */
const LONG_MS = 300;
/** A turn that goes on for longer, since more keeps coming than can even be told, counts as over: some are answered whatever the load [ms]. */
const LONGEST_TURN_MS = 500;

/**
 * How long requests wait for their turn, and whether that is too long. What is there when a turn of the event loop begins is answered one after another, so
 * that whoever comes late in it has waited since then at least. A burst is borne; where one late turn follows the other, only as many are taken in
 * each as are answered in a short time, and the others can be told at once: the queue stays short, and most of the time goes into answers
 * (the rule of controlled delay: Nichols and Jacobson 2012, ACM Queue 10(5); with two patiences, Maurer 2015, ACM Queue 13(8)).
 */
export class QueueingDelay {
  readonly #nowMs: () => number;
  readonly #atEndOfTurn: (end: () => void) => void;
  #inTurn = false;
  #turnBeganMs = 0;
  #turnEndedMs = 0;
  /** When the event loop was last known to keep up. */
  #onTimeMs: number;

  constructor(nowMs: () => number = () => performance.now(), atEndOfTurn: (end: () => void) => void = setImmediate) {
    this.#nowMs = nowMs;
    this.#atEndOfTurn = atEndOfTurn;
    this.#onTimeMs = nowMs();
  }

  /** Asked as each request begins: whether it has waited too long already. */
  isTooLong(): boolean {
    const nowMs = this.#nowMs();
    if (!this.#inTurn) {
      this.#inTurn = true;
      this.#turnBeganMs = nowMs;
      // nobody asked for a while: nobody waited
      if (nowMs - this.#turnEndedMs > SHORT_MS) this.#onTimeMs = nowMs;
      this.#atEndOfTurn(this.#endTurn);
    } else if (nowMs - this.#turnBeganMs > LONGEST_TURN_MS) this.#turnBeganMs = nowMs;
    const waitedMs = nowMs - this.#turnBeganMs;
    return waitedMs > SHORT_MS && (waitedMs > LONG_MS || nowMs - this.#onTimeMs > LONG_MS);
  }

  readonly #endTurn = (): void => {
    const nowMs = this.#nowMs();
    this.#inTurn = false;
    this.#turnEndedMs = nowMs;
    if (nowMs - this.#turnBeganMs <= SHORT_MS) this.#onTimeMs = nowMs;
  };
}
