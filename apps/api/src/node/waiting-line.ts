/** Longest that anyone may wait in line while there has been a line for long [ms]. */
const SHORT_MS = 100;
/** The longest wait otherwise, as after a burst, and how long there may be a line before the short one holds [ms]. */
const LONG_MS = 300;
/** What is done in one turn of the event loop before others have theirs [ms]: each takes in one new connection only. */
const TURN_MS = 5;

/** Part of a turn that may go into shedding: however many come, some are answered. */
const MOST_FOR_SHEDDING = 0.5;

interface Waiting<T> {
  readonly entry: T;
  readonly cameMs: number;
}

export interface WaitingLineSettings<T> {
  readonly take: (entry: T) => void;
  /** Whoever has waited for too long. */
  readonly shed: (entry: T) => void;
  readonly nowMs?: () => number;
  readonly atNextTurn?: (resume: () => void) => void;
}

/**
 * Requests in the order in which they came. Where there is no line they are taken at once; where there is one, each turn of the event loop takes a few,
 * so that the others are seen as they come and know how long they have waited. A burst is borne; where the line does not end, those who have
 * waited for too long are shed, so that the others are answered while they still wait (controlled delay: Nichols and Jacobson 2012,
 * ACM Queue 10(5); with two patiences, Maurer 2015, ACM Queue 13(8)).
 */
export class WaitingLine<T> {
  readonly #take: (entry: T) => void;
  readonly #shed: (entry: T) => void;
  readonly #nowMs: () => number;
  readonly #atNextTurn: (resume: () => void) => void;
  /** From `#first` on. */
  #entries: Waiting<T>[] = [];
  #first = 0;
  #inTurn = false;
  #turnBeganMs = 0;
  /** When there was last nobody in line. */
  #emptyMs: number;

  constructor({ take, shed, nowMs = () => performance.now(), atNextTurn = setImmediate }: WaitingLineSettings<T>) {
    this.#take = take;
    this.#shed = shed;
    this.#nowMs = nowMs;
    this.#atNextTurn = atNextTurn;
    this.#emptyMs = nowMs();
  }

  come(entry: T): void {
    const nowMs = this.#nowMs();
    if (!this.#inTurn) {
      this.#inTurn = true;
      this.#turnBeganMs = nowMs;
      this.#atNextTurn(this.#nextTurn);
    }
    if (this.#entries.length === 0) {
      this.#emptyMs = nowMs;
      if (nowMs - this.#turnBeganMs < TURN_MS) {
        this.#take(entry);
        return;
      }
    }
    this.#entries.push({ entry, cameMs: nowMs });
  }

  readonly #nextTurn = (): void => {
    let nowMs = this.#nowMs();
    this.#turnBeganMs = nowMs;
    for (; this.#first < this.#entries.length && nowMs - this.#turnBeganMs < TURN_MS; nowMs = this.#nowMs()) {
      const patienceMs = nowMs - this.#emptyMs > LONG_MS ? SHORT_MS : LONG_MS;
      const isLate = nowMs - (this.#entries[this.#first] as Waiting<T>).cameMs > patienceMs;
      if (!isLate) this.#take((this.#entries[this.#first++] as Waiting<T>).entry);
      else if (nowMs - this.#turnBeganMs < MOST_FOR_SHEDDING * TURN_MS)
        this.#shed((this.#entries[this.#first++] as Waiting<T>).entry);
      // where there are more than can even be told, who came last is the one whom an answer still reaches in time
      else this.#take((this.#entries.pop() as Waiting<T>).entry);
    }
    this.#inTurn = this.#first < this.#entries.length;
    if (this.#inTurn) this.#atNextTurn(this.#nextTurn);
    else this.#emptyMs = nowMs;
    // moved up now and then, since a shift for each would move all
    if (this.#first > 0 && this.#first * 2 >= this.#entries.length) {
      this.#entries = this.#entries.slice(this.#first);
      this.#first = 0;
    }
  };
}
