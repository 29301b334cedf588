/** Most bytes of one reply: a skyline takes some 40 kB. */
const MAX_REPLY_BYTES = 16_000_000;
/** Most characters of a line: lengths, numbers, states and errors. */
const MAX_LINE = 4096;
const MAX_DEPTH = 16;
/** Most elements of all arrays in one reply. */
const MAX_ELEMENTS = 100_000;
const CR = 13;
const LF = 10;

/** A reply that breaks RESP2, or that is larger than any that we ask for. */
export class ReplyError extends Error {
  override readonly name = "ReplyError";
}

/**
 * Checks the framing of RESP2 replies before the client's parser sees them. The parser recurses into arrays, allocates whatever length
 * it is told, and takes any byte for a digit.
 */
export class ReplyLimits {
  /** Bytes of a bulk string still to come, its CR LF included. */
  #bulk = 0;
  #line = "";
  /** Elements still to come, of each array that is open. */
  readonly #open: number[] = [];
  #bytes = 0;
  #elements = 0;

  /** @throws ReplyError where the bytes, after those before, cannot begin or go on a reply */
  check(chunk: Buffer): void {
    let at = 0;
    while (at < chunk.length) at = this.#bulk > 0 ? this.#passBulk(chunk, at) : this.#passLine(chunk, at);
  }

  #passBulk(chunk: Buffer, from: number): number {
    const to = Math.min(chunk.length, from + this.#bulk);
    const left = this.#bulk - (to - from);
    // the last two bytes, as far as they are in this chunk
    for (let at = Math.max(from, to - (2 - left)); at < to; at++) {
      const fromEnd = left + (to - at);
      if (chunk[at] !== (fromEnd === 2 ? CR : LF)) throw new ReplyError("a string does not end where it should");
    }
    this.#bulk = left;
    if (left === 0) this.#ended();
    return to;
  }

  #passLine(chunk: Buffer, from: number): number {
    const lf = chunk.indexOf(LF, from);
    const to = lf < 0 ? chunk.length : lf + 1;
    if (this.#line.length + to - from > MAX_LINE) throw new ReplyError("a line does not end");
    this.#line += chunk.toString("latin1", from, to);
    if (lf >= 0) {
      const line = this.#line;
      this.#line = "";
      this.#count(line.length, 0);
      this.#take(line);
    }
    return to;
  }

  #take(line: string): void {
    if (/^(:-?\d{1,19}|[+-][^\r\n]*|[$*]-1|\*0)\r\n$/.test(line)) {
      this.#ended();
      return;
    }
    const length = /^[$*](\d{1,9})\r\n$/.exec(line)?.[1];
    if (length === undefined) throw new ReplyError("neither a string, a number, an array nor an error");
    const count = Number(length);
    if (line.startsWith("$")) {
      this.#count(count, 0);
      this.#bulk = count + 2;
    } else {
      this.#count(0, count);
      this.#open.push(count);
      if (this.#open.length > MAX_DEPTH) throw new ReplyError("arrays too deep");
    }
  }

  #count(bytes: number, elements: number): void {
    this.#bytes += bytes;
    this.#elements += elements;
    if (this.#bytes > MAX_REPLY_BYTES || this.#elements > MAX_ELEMENTS) throw new ReplyError("a reply too large");
  }

  /** A value is complete, and with it each array whose last element it was. */
  #ended(): void {
    let left = 0;
    while (left === 0) {
      const last = this.#open.length - 1;
      if (last < 0) {
        this.#bytes = 0;
        this.#elements = 0;
        return;
      }
      left = (this.#open[last] as number) - 1;
      if (left > 0) this.#open[last] = left;
      else this.#open.pop();
    }
  }
}
