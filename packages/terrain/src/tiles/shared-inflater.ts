import { createGunzip, createInflateRaw } from "node:zlib";

/** Taken and inflated at a time [B]. What is inflated lies about until it is collected, so its pieces are small. */
export const PIECE_BYTES = 1_000_000;
const INFLATED_BYTES = 65_536;

const STREAMS = { gzip: createGunzip, deflate: createInflateRaw };

/** Memory that all threads share. A byte more than the most tells what is too large; pages that are never written to take none. */
export const sharedRoom = (mostBytes: number): Uint8Array => new Uint8Array(new SharedArrayBuffer(mostBytes + 1));

/**
 * Inflates one piece after another into the memory that it stays in, so that it takes little more than what comes out of it. It is done
 * by the platform's own zlib, beside the event loop.
 */
export class SharedInflater {
  readonly #stream: ReturnType<(typeof STREAMS)[keyof typeof STREAMS]>;
  readonly #room: Uint8Array;
  /** When nothing more comes: it has ended, or a fault or a byte too many ended it. */
  readonly #closed: Promise<void>;
  #fault: Error | undefined;
  #length = 0;

  /** @param mostBytes what may come out: it stops a byte after */
  constructor(packing: keyof typeof STREAMS, mostBytes: number) {
    this.#stream = STREAMS[packing]({ chunkSize: INFLATED_BYTES });
    this.#room = sharedRoom(mostBytes);
    this.#closed = new Promise((resolve) => {
      this.#stream.on("close", resolve);
    });
    this.#stream.on("error", (error) => {
      this.#fault = error;
    });
    this.#stream.on("data", (bytes: Uint8Array) => this.#place(bytes));
  }

  /**
   * When it returns the piece is used up, and its memory is free for the next.
   * @throws Error where the packing is damaged
   */
  async take(piece: Uint8Array): Promise<void> {
    for (let from = 0; from < piece.length && !this.#isFull; from += PIECE_BYTES) {
      const taken = new Promise<void>((resolve) => {
        this.#stream.write(piece.subarray(from, from + PIECE_BYTES), () => resolve());
      });
      await Promise.race([taken, this.#closed]);
      this.#throwFault();
    }
  }

  /**
   * All that came out, at the start of shared memory.
   * @throws Error where the packing is damaged or cut short
   */
  async end(): Promise<Uint8Array> {
    if (!this.#isFull) {
      this.#stream.end();
      await this.#closed;
      this.#throwFault();
    }
    return this.#room.subarray(0, this.#length);
  }

  #throwFault(): void {
    if (this.#fault !== undefined && !this.#isFull) throw this.#fault;
  }

  get #isFull(): boolean {
    return this.#length === this.#room.length;
  }

  #place(bytes: Uint8Array): void {
    const fits = bytes.subarray(0, this.#room.length - this.#length);
    this.#room.set(fits, this.#length);
    this.#length += fits.length;
    if (this.#isFull) this.#stream.destroy();
  }
}

/** What a packed whole holds, at the start of shared memory. */
export async function inflated(
  packing: keyof typeof STREAMS,
  pieces: readonly Uint8Array[],
  mostBytes: number,
): Promise<Uint8Array> {
  const inflater = new SharedInflater(packing, mostBytes);
  for (const piece of pieces) await inflater.take(piece);
  return inflater.end();
}
