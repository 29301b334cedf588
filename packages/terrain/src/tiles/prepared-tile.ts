import { crc32 } from "node:zlib";
import { type ElevationGrid, type ElevationSamples, GROUND_BLOCK_SHIFT, pyramidLayout } from "@fieldstop/core/horizon";
import { CHECKSUM } from "./checksum";
import { openPlainFile } from "./plain-file";
import { FIRST_SIDE, PATCHES, type PreparedFile, SIDE } from "./prepared-blocks";
import { openGrid, type SharedGrid } from "./shared-grid";

/** A tile to be prepared: its heights, and the store's folder and key to put it under. */
export interface PrepareJob {
  readonly grid: SharedGrid;
  readonly folder: string;
  readonly key: string;
}

/** Goes up when the form of prepared files changes, or what is read into them. */
export const PREPARED_FORMAT = 1;

/** Begins a file; in the byte order of the machine, which its samples have as well. */
const MARK = 0x4653_544c;
const MARK_BYTES = 16;
/** The description of the grid ends here at the latest; it is filled up with blanks. */
const HEAD_BYTES = 1024;

interface Head {
  readonly rows: number;
  readonly columns: number;
  readonly northDeg: number;
  readonly westDeg: number;
  readonly latStepDeg: number;
  readonly lonStepDeg: number;
  /** null for NaN */
  readonly voidValue: number | null;
  readonly kind: "int16" | "float32";
  readonly highestM: number;
  readonly hasVoids: boolean;
}

/**
 * Writes a tile so that it can be read in parts: what it is, the coarser levels of its maximum pyramid, then its heights in blocks of
 * 64 × 64 patches, each with its part of the finest level, then the blocks' checksums.
 */
export async function prepareTile({ grid: details, folder, key }: PrepareJob): Promise<void> {
  const grid = openGrid(details);
  // loaded where there is a disk to write to: platforms without one run the rest of this module
  const { default: cacache } = await import("cacache");
  const stream = cacache.put.stream(folder, key, { algorithms: [CHECKSUM] });
  const done = stream.promise();
  done.catch(() => {});
  stream.write(frontOf(grid));
  const { columns, rows } = blockCounts(grid);
  const checks = new Uint32Array(columns * rows);
  for (let row = 0; row < rows; row++) {
    const bytes = blockRow(grid, row, columns);
    const blockBytes = bytes.length / columns;
    for (let column = 0; column < columns; column++) {
      checks[row * columns + column] = crc32(bytes.subarray(column * blockBytes, (column + 1) * blockBytes));
    }
    // what is not written yet waits in memory
    if (!stream.write(bytes)) await new Promise((resolve) => setImmediate(resolve));
  }
  const table = Buffer.from(checks.buffer);
  stream.write(table);
  stream.end(Buffer.from(Uint32Array.of(crc32(table)).buffer));
  await done;
}

/** Bytes that a prepared tile takes. */
export function preparedBytes({ rows, columns, samples }: ElevationGrid): number {
  return headedBytes({ rows, columns, kind: samples instanceof Int16Array ? "int16" : "float32" });
}

function headedBytes(head: Pick<Head, "rows" | "columns" | "kind">): number {
  const { columns, rows } = blockCounts(head);
  const sampleBytes = bytesOf(head.kind);
  const { length, offsets } = pyramidLayout(head.rows, head.columns);
  const coarse = (length - (offsets[1] as number)) * sampleBytes;
  return MARK_BYTES + HEAD_BYTES + coarse + columns * rows * (blockSamples() * sampleBytes + 4) + 4;
}

/** A prepared tile with only the coarser levels of its pyramid at hand; null where the file is damaged or of another machine. */
export async function openPrepared(key: string, path: string): Promise<ElevationGrid | null> {
  const opened = await openPlainFile(path).catch(() => null);
  if (opened === null) return null;
  const { file, size } = opened;
  try {
    const read = async (at: number, length: number): Promise<Buffer> => {
      const { bytesRead, buffer } = await file.read(Buffer.alloc(length), 0, length, at);
      return buffer.subarray(0, bytesRead);
    };
    const front = await read(0, MARK_BYTES + HEAD_BYTES);
    const [mark, coarseBytes = 0, check] = new Uint32Array(front.buffer, 0, MARK_BYTES / 4);
    if (mark !== MARK || coarseBytes > size) return null;
    const coarse = await read(front.length, coarseBytes);
    if (crc32(coarse, crc32(front.subarray(MARK_BYTES))) !== check) return null;
    const head = JSON.parse(front.subarray(MARK_BYTES).toString("utf8")) as Head;
    // before anything is made by what it says
    const isGrid = Number.isInteger(head.rows) && Number.isInteger(head.columns) && head.rows > 1 && head.columns > 1;
    if (!isGrid || size !== headedBytes(head)) return null;
    const { columns: blockColumns, rows: blockRows } = blockCounts(head);
    const blockBytes = blockSamples() * bytesOf(head.kind);
    const blocksAt = front.length + coarseBytes;
    const count = blockColumns * blockRows;
    const table = await read(blocksAt + count * blockBytes, 4 * count + 4);
    const words = new Uint32Array(table.buffer, 0, count + 1);
    if (table.length !== words.byteLength || crc32(table.subarray(0, 4 * count)) !== words[count]) return null;
    const checks = new Uint32Array(new SharedArrayBuffer(4 * count));
    checks.set(words.subarray(0, count));
    const loaded = new Int32Array(new SharedArrayBuffer(4 * count));
    return lazyGrid(head, coarse, { key, path, blocksAt, blockBytes, blockColumns, blockRows, checks, loaded });
  } catch {
    return null;
  } finally {
    await file.close();
  }
}

function lazyGrid(head: Head, coarse: Buffer, prepared: PreparedFile): ElevationGrid {
  const { rows, columns, kind, highestM, hasVoids } = head;
  const layout = pyramidLayout(rows, columns);
  // pages that are never written to take no memory
  const samples = room(kind, rows * columns);
  const maxima = room(kind, layout.length);
  const [, coarserAt = 0] = layout.offsets;
  new Uint8Array(maxima.buffer, coarserAt * maxima.BYTES_PER_ELEMENT).set(coarse);
  raiseFirstLevel(maxima, layout);
  const { northDeg, westDeg, latStepDeg, lonStepDeg } = head;
  const voidValue = head.voidValue ?? Number.NaN;
  const pyramid = { maxima, offsets: layout.offsets, widths: layout.widths, highestM, hasVoids };
  return openGrid({ samples, rows, columns, northDeg, westDeg, latStepDeg, lonStepDeg, voidValue, pyramid, prepared });
}

/** Until a block's own maxima come, those of the level above stand for them: no lower than the truth. */
function raiseFirstLevel(
  maxima: ElevationSamples,
  { offsets, widths, heights }: ReturnType<typeof pyramidLayout>,
): void {
  const [width = 0, coarserWidth = 0] = widths;
  const [height = 0] = heights;
  const [, coarserAt = 0] = offsets;
  for (let y = 0; y < height; y++) {
    const above = coarserAt + (y >> 2) * coarserWidth;
    const at = y * width;
    for (let x = 0; x < width; x++) maxima[at + x] = maxima[above + (x >> 2)] as number;
  }
}

function room(kind: Head["kind"], length: number): ElevationSamples {
  if (kind === "int16") return new Int16Array(new SharedArrayBuffer(2 * length));
  return new Float32Array(new SharedArrayBuffer(4 * length));
}

const bytesOf = (kind: Head["kind"]): number => (kind === "int16" ? 2 : 4);

const blockSamples = (): number => SIDE * SIDE + FIRST_SIDE * FIRST_SIDE;

const blockCounts = ({ rows, columns }: { readonly rows: number; readonly columns: number }) => ({
  columns: ((columns - 2) >> GROUND_BLOCK_SHIFT) + 1,
  rows: ((rows - 2) >> GROUND_BLOCK_SHIFT) + 1,
});

function frontOf(grid: ElevationGrid): Buffer {
  const { rows, columns, northDeg, westDeg, latStepDeg, lonStepDeg, samples, pyramid } = grid;
  const voidValue = Number.isNaN(grid.voidValue) ? null : grid.voidValue;
  const kind = samples instanceof Int16Array ? "int16" : "float32";
  const { highestM, hasVoids, maxima, offsets } = pyramid;
  const head: Head = {
    ...{ rows, columns, northDeg, westDeg, latStepDeg, lonStepDeg, voidValue, kind, highestM, hasVoids },
  };
  const described = Buffer.alloc(HEAD_BYTES, " ");
  described.write(JSON.stringify(head), "utf8");
  const coarser = maxima.slice(offsets[1] as number);
  const coarse = Buffer.from(coarser.buffer, coarser.byteOffset, coarser.byteLength);
  const check = crc32(coarse, crc32(described));
  return Buffer.concat([Buffer.from(Uint32Array.of(MARK, coarse.length, check, 0).buffer), described, coarse]);
}

function blockRow(grid: ElevationGrid, blockRowIndex: number, blockColumns: number): Buffer {
  const { samples, rows, columns, pyramid } = grid;
  const { maxima, widths } = pyramid;
  const [width = 0] = widths;
  const height = ((rows - 2) >> 2) + 1;
  const size = blockSamples();
  const bytes = new Uint8Array(blockColumns * size * samples.BYTES_PER_ELEMENT);
  const out = samples instanceof Int16Array ? new Int16Array(bytes.buffer) : new Float32Array(bytes.buffer);
  for (let column = 0; column < blockColumns; column++) {
    if (grid.blocks !== undefined) grid.blocks.need(column, blockRowIndex);
    const left = column * PATCHES;
    const right = Math.min(columns, left + SIDE);
    for (let r = 0; r < SIDE && blockRowIndex * PATCHES + r < rows; r++) {
      const from = (blockRowIndex * PATCHES + r) * columns;
      out.set(samples.subarray(from + left, from + right), column * size + r * SIDE);
    }
    const first = column * FIRST_SIDE;
    const last = Math.min(width, first + FIRST_SIDE);
    for (let r = 0; r < FIRST_SIDE && blockRowIndex * FIRST_SIDE + r < height; r++) {
      const from = (blockRowIndex * FIRST_SIDE + r) * width;
      out.set(maxima.subarray(from + first, from + last), column * size + SIDE * SIDE + r * FIRST_SIDE);
    }
  }
  return Buffer.from(bytes.buffer);
}
