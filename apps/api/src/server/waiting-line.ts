/** Longest that anyone may wait in line while there has been a line for long [ms]. */
const SHORT_MS = 100;
/** The longest wait otherwise, as after a burst, and how long there may be a line before the short one holds [ms]. */
const LONG_MS = 300;
/** What is done in one turn of the event loop before others have theirs [ms]. */
const TURN_MS = 2;
/** The same while there are new connections: each turn takes in one only, and many may stand at the door. */
const TURN_AT_THE_DOOR_MS = 1;

/** Part of a turn that may go into shedding: however many come, some are answered. */
const MOST_FOR_SHEDDING = 0.5;

/** What one is taken to take while none has told [ms]. */
const FIRST_GUESS_MS = 1;

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
  /** Goes on when all is done that was begun and waits for nothing. */
  readonly whenDone?: (resume: () => void) => void;
}

/** After the promises that are settled, and after those that are settled by them. */
const whenPromisesRan = (resume: () => void): void => queueMicrotask(() => process.nextTick(resume));

/**
 * Requests in the order in which they came. Those that one turn of the event loop brings are taken together when it has brought them all: that takes a
 * third less than each as it comes. A turn takes as many as there is time for, so that the others are seen as they come and know how long they have
 * waited. A burst is borne; where the line does not end, those who have waited for too long are shed, so that the others are answered while they still
 * wait (controlled delay: Nichols and Jacobson 2012, ACM Queue 10(5); with two patiences, Maurer 2015, ACM Queue 13(8)).
 */
export class WaitingLine<T> {
  readonly #take: (entry: T) => void;
  readonly #shed: (entry: T) => void;
  readonly #nowMs: () => number;
  readonly #atNextTurn: (resume: () => void) => void;
  readonly #whenDone: (resume: () => void) => void;
  /** From `#first` on. */
  #entries: Waiting<T>[] = [];
  #first = 0;
  #inTurn = false;
  #turnBeganMs = 0;
  #turnMs = TURN_MS;
  /** Whether a connection was taken in since the last turn began. */
  #someoneNew = false;
  /** What each that was taken from the line took lately, with all that its answer began [ms]. */
  #eachMs = FIRST_GUESS_MS;
  /** When there was last nobody in line. */
  #emptyMs: number;

  constructor(settings: WaitingLineSettings<T>) {
    const { take, shed, nowMs = () => performance.now() } = settings;
    this.#take = take;
    this.#shed = shed;
    this.#nowMs = nowMs;
    this.#atNextTurn = settings.atNextTurn ?? setImmediate;
    this.#whenDone = settings.whenDone ?? whenPromisesRan;
    this.#emptyMs = nowMs();
  }

  come(entry: T): void {
    const nowMs = this.#nowMs();
    if (!this.#inTurn) {
      this.#inTurn = true;
      this.#atNextTurn(this.#nextTurn);
    }
    if (this.#entries.length === 0) this.#emptyMs = nowMs;
    this.#entries.push({ entry, cameMs: nowMs });
  }

  /** A connection was taken in. */
  newConnection(): void {
    this.#someoneNew = true;
  }

  readonly #nextTurn = (): void => {
    this.#turnBeganMs = this.#nowMs();
    this.#turnMs = this.#someoneNew ? TURN_AT_THE_DOOR_MS : TURN_MS;
    this.#someoneNew = false;
    this.#shedLate();
    this.#takeSome();
  };

  #shedLate(): void {
    const untilMs = this.#turnBeganMs + MOST_FOR_SHEDDING * this.#turnMs;
    for (let nowMs = this.#turnBeganMs; nowMs < untilMs && this.#isFirstLate(nowMs); nowMs = this.#nowMs()) {
      this.#shed((this.#entries[this.#first++] as Waiting<T>).entry);
    }
  }

  #isFirstLate(nowMs: number): boolean {
    const first = this.#entries[this.#first];
    const patienceMs = nowMs - this.#emptyMs > LONG_MS ? SHORT_MS : LONG_MS;
    return first !== undefined && nowMs - first.cameMs > patienceMs;
  }

  /** As many together as there is time for: that takes less than one by one. */
  #takeSome(): void {
    const nowMs = this.#nowMs();
    const leftMs = this.#turnMs - (nowMs - this.#turnBeganMs);
    if (leftMs <= 0 || this.#first >= this.#entries.length) {
      this.#endTurn(nowMs);
      return;
    }
    const most = Math.min(this.#entries.length - this.#first, Math.max(1, Math.floor(leftMs / this.#eachMs)));
    const endMs = nowMs + leftMs;
    let taken = 0;
    do {
      // where there are more than can even be told, who came last is the one whom an answer still reaches in time
      const next = this.#isFirstLate(nowMs) ? this.#entries.pop() : this.#entries[this.#first++];
      this.#take((next as Waiting<T>).entry);
      taken++;
    } while (taken < most && this.#nowMs() < endMs);
    this.#whenDone(() => {
      this.#eachMs = (this.#eachMs + (this.#nowMs() - nowMs) / taken) / 2;
      this.#takeSome();
    });
  }

  #endTurn(nowMs: number): void {
    this.#inTurn = this.#first < this.#entries.length;
    if (this.#inTurn) this.#atNextTurn(this.#nextTurn);
    else this.#emptyMs = nowMs;
    // moved up now and then, since a shift for each would move all
    if (this.#first > 0 && this.#first * 2 >= this.#entries.length) {
      this.#entries = this.#entries.slice(this.#first);
      this.#first = 0;
    }
  }
}
