import { closeSync, openSync, readSync } from "node:fs";
import { crc32 } from "node:zlib";
import { type ElevationSamples, GROUND_BLOCK_SHIFT, type GroundBlocks } from "@fieldstop/core/horizon";
import { LRUCache } from "lru-cache";
import type { SharedGrid } from "./shared-grid";
import { TileError } from "./tile-error";

/** Patches, nodes, and squares of the pyramid's first level on a side of a block. */
export const PATCHES = 1 << GROUND_BLOCK_SHIFT;
export const SIDE = PATCHES + 1;
export const FIRST_SIDE = PATCHES / 4;

/** Where a prepared tile lies and how, as plain data that threads can pass to one another. */
export interface PreparedFile {
  /** What the store keeps it under. */
  readonly key: string;
  readonly path: string;
  /** Where its blocks begin [B]. */
  readonly blocksAt: number;
  readonly blockBytes: number;
  readonly blockColumns: number;
  readonly blockRows: number;
  /** Checksum of each block. */
  readonly checks: Uint32Array;
  /** 1 for each block that is at hand; in memory that all threads share, as the heights are. */
  readonly loaded: Int32Array;
}

const DAMAGED = "the prepared file is damaged or gone";
/** Files that a thread keeps open. */
const OPEN_FILES = 64;

/** What is wrong is not the tile but its prepared form, which can be made again. */
export const isPreparedFault = (error: unknown): error is TileError =>
  error instanceof TileError && error.reason === DAMAGED;

const files = new LRUCache<string, number>({ max: OPEN_FILES, dispose: (file) => closeSync(file) });

/** The blocks of a prepared tile, read from its file when they are first needed, by whichever thread does. */
export class PreparedBlocks implements GroundBlocks {
  readonly file: PreparedFile;
  readonly #samples: ElevationSamples;
  readonly #maxima: ElevationSamples;
  readonly #rows: number;
  readonly #columns: number;
  readonly #firstWidth: number;

  constructor(file: PreparedFile, grid: SharedGrid & { readonly pyramid: NonNullable<SharedGrid["pyramid"]> }) {
    this.file = file;
    this.#samples = grid.samples;
    this.#maxima = grid.pyramid.maxima;
    this.#rows = grid.rows;
    this.#columns = grid.columns;
    this.#firstWidth = grid.pyramid.widths[0] as number;
  }

  /** @throws TileError that {@link isPreparedFault} knows */
  need(blockColumn: number, blockRow: number): void {
    const { blockColumns, loaded } = this.file;
    const index = blockRow * blockColumns + blockColumn;
    if (Atomics.load(loaded, index) === 1) return;
    this.#place(this.#read(index), blockColumn, blockRow);
    // two threads that meet here have written the same
    Atomics.store(loaded, index, 1);
  }

  needAll(): void {
    for (let row = 0; row < this.file.blockRows; row++) {
      for (let column = 0; column < this.file.blockColumns; column++) this.need(column, row);
    }
  }

  /** Memory that is taken by what is at hand [B]: whole pages of 4 kB, which neighbours in a row share. */
  get bytesAtHand(): number {
    const { loaded, blockColumns, blockRows } = this.file;
    const width = this.#samples.BYTES_PER_ELEMENT;
    const rowBytes = this.#columns * width;
    let bytes = this.#maxima.byteLength;
    for (let row = 0; row < blockRows; row++) {
      let pages = 0;
      let last = -1;
      for (let column = 0; column < blockColumns; column++) {
        if (loaded[row * blockColumns + column] !== 1) continue;
        const from = Math.floor((column * PATCHES * width) / PAGE);
        const to = Math.floor(((column * PATCHES + PATCHES) * width) / PAGE);
        pages += to - Math.max(from, last + 1) + 1;
        last = to;
      }
      bytes += Math.min(pages * PAGE, rowBytes) * PATCHES;
    }
    return bytes;
  }

  #read(index: number): ElevationSamples {
    const { path, key, blocksAt, blockBytes, checks } = this.file;
    const bytes = new Uint8Array(blockBytes);
    try {
      let file = files.get(path);
      if (file === undefined) {
        file = openSync(path, "r");
        files.set(path, file);
      }
      const count = readSync(file, bytes, 0, blockBytes, blocksAt + index * blockBytes);
      if (count !== blockBytes || crc32(bytes) !== checks[index]) throw new Error("damaged");
    } catch (error) {
      files.delete(path);
      throw new TileError(key, DAMAGED, { cause: error });
    }
    return this.#samples instanceof Int16Array ? new Int16Array(bytes.buffer) : new Float32Array(bytes.buffer);
  }

  #place(block: ElevationSamples, blockColumn: number, blockRow: number): void {
    const columns = this.#columns;
    const width = Math.min(SIDE, columns - blockColumn * PATCHES);
    for (let r = 0; r < SIDE && blockRow * PATCHES + r < this.#rows; r++) {
      const at = (blockRow * PATCHES + r) * columns + blockColumn * PATCHES;
      this.#samples.set(block.subarray(r * SIDE, r * SIDE + width), at);
    }
    const firstWidth = this.#firstWidth;
    const firstHeight = ((this.#rows - 2) >> 2) + 1;
    const across = Math.min(FIRST_SIDE, firstWidth - blockColumn * FIRST_SIDE);
    for (let r = 0; r < FIRST_SIDE && blockRow * FIRST_SIDE + r < firstHeight; r++) {
      const at = (blockRow * FIRST_SIDE + r) * firstWidth + blockColumn * FIRST_SIDE;
      const from = SIDE * SIDE + r * FIRST_SIDE;
      this.#maxima.set(block.subarray(from, from + across), at);
    }
  }
}

const PAGE = 4096;
