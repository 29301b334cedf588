/** Failures in a row after which a source is taken to be away. */
const MOST_FAILURES = 3;
/** How much longer than at first a source is left alone at the most. */
const LONGEST = 10;

/** Which requests a source may get: all, a single probe to see whether it is back, or none. */
export type Turn = "ask" | "probe" | "leave";

/** Whether a source can be reached: after a few failures in a row it is left alone for a while, and longer each time. */
export class SourceState {
  readonly name: string;
  readonly #warn: (message: string) => void;
  #failures = 0;
  #isAway = false;
  #restMs = 0;
  /** By a clock that only goes forward [ms]. */
  #askAgainAt = 0;

  constructor(name: string, warn: (message: string) => void = () => {}) {
    this.name = name;
    this.#warn = warn;
  }

  get state(): "ok" | "away" {
    return this.#isAway ? "away" : "ok";
  }

  turn(): Turn {
    if (!this.#isAway) return "ask";
    if (performance.now() < this.#askAgainAt) return "leave";
    // the next one goes after as long again, whatever becomes of this one
    this.#askAgainAt = performance.now() + this.#restMs;
    return "probe";
  }

  /** Note that it gave an answer, whatever it said. */
  reached(): void {
    this.#failures = 0;
    if (!this.#isAway) return;
    this.#isAway = false;
    this.#warn(`FIELDSTOP_ELEVATION: ${this.name} answers again`);
  }

  /**
   * Note that it did not answer.
   * @param restMs how long it is left alone at first [ms]
   */
  failed(turn: Turn, why: string, restMs: number): void {
    if (this.#isAway) {
      // requests sent before the source was marked away tell nothing new
      if (turn === "probe") this.#rest(Math.min(2 * this.#restMs, LONGEST * restMs));
      return;
    }
    if (++this.#failures < MOST_FAILURES) return;
    this.#isAway = true;
    this.#rest(restMs);
    this.#warn(
      `FIELDSTOP_ELEVATION: ${this.name} cannot be reached (${why}): it is left alone for a while, and skylines lack what only it has`,
    );
  }

  #rest(restMs: number): void {
    this.#restMs = restMs;
    this.#askAgainAt = performance.now() + restMs;
  }
}

/** What to call a source in public: a URL without what may be secret in it, the last part of a folder's path. */
export function sourceName(source: string): string {
  const [address = source] = source.split(/[?#]/);
  if (/^https?:/i.test(address)) return address.replace(/^(https?:\/\/)[^/@]*@/i, "$1");
  return address.split(/[/\\]/).findLast((part) => part !== "") ?? source;
}
