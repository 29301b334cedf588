import type { ElevationSamples } from "./grid";

// Mount Everest, 8848.86 m: joint announcement by China and Nepal, 2020. Nothing unknown is taken to stand higher.
export const HIGHEST_GROUND_M = 8849;

/** Stands for the maximum of a block in which no node is known: a search need not look into it. No ground is so high. */
export const VOID_THROUGHOUT = 32_767;

/** Blocks of 4, 16, 64, 256 and 1024 patches a side: five levels cost 6.7 % of the grid. */
export const PYRAMID_SHIFTS = [2, 4, 6, 8, 10] as const;

/**
 * The highest ground in square blocks of patches, coarser level by level, all levels in one array. A block that holds a void counts
 * as the highest ground on Earth, so that no void is ever passed over unseen; one that holds nothing else as `VOID_THROUGHOUT`.
 */
export interface MaximumPyramid {
  readonly maxima: ElevationSamples;
  /** Where each level begins in `maxima`. */
  readonly offsets: readonly number[];
  /** Blocks in a row of each level. */
  readonly widths: readonly number[];
  /** The highest ground of the whole grid [m]. */
  readonly highestM: number;
  readonly hasVoids: boolean;
}

/** How a pyramid lies in its array. */
export interface PyramidLayout {
  /** Where each level begins. */
  readonly offsets: readonly number[];
  /** Blocks in a row of each level. */
  readonly widths: readonly number[];
  /** Rows of blocks of each level. */
  readonly heights: readonly number[];
  readonly length: number;
}

/** Compute how the maximum pyramid of a grid of so many rows and columns of nodes lies in its array. */
export function pyramidLayout(rows: number, columns: number): PyramidLayout {
  const widths: number[] = [];
  const heights: number[] = [];
  const offsets: number[] = [];
  let length = 0;
  for (const shift of PYRAMID_SHIFTS) {
    const width = ((columns - 2) >> shift) + 1;
    const height = ((rows - 2) >> shift) + 1;
    offsets.push(length);
    widths.push(width);
    heights.push(height);
    length += width * height;
  }
  return { offsets, widths, heights, length };
}

export function buildMaximumPyramid(
  samples: ElevationSamples,
  rows: number,
  columns: number,
  voidValue: number,
): MaximumPyramid {
  const { offsets, widths, heights, length } = pyramidLayout(rows, columns);
  const maxima = samplesBeside(samples, length);
  const hasVoids = fillFirstLevel(samples, rows, columns, voidValue, maxima, widths[0] as number, heights[0] as number);
  for (let level = 1; level < PYRAMID_SHIFTS.length; level++) {
    fillFromFiner(
      maxima,
      offsets[level - 1] as number,
      widths[level - 1] as number,
      heights[level - 1] as number,
      offsets[level] as number,
      widths[level] as number,
      heights[level] as number,
    );
  }
  let highestM = Number.NEGATIVE_INFINITY;
  for (let i = offsets[offsets.length - 1] as number; i < length; i++)
    highestM = Math.max(highestM, heightOfMaximum(maxima[i] as number));
  return { maxima, offsets, widths, highestM, hasVoids };
}

/** No ground of a block stands higher than this [m], by its maximum. */
export const heightOfMaximum = (maximum: number): number => (maximum === VOID_THROUGHOUT ? HIGHEST_GROUND_M : maximum);

/** Room for heights of the same kind, shared between threads where the others are. */
function samplesBeside(samples: ElevationSamples, length: number): ElevationSamples {
  const shared = typeof SharedArrayBuffer !== "undefined" && samples.buffer instanceof SharedArrayBuffer;
  const bytes = length * samples.BYTES_PER_ELEMENT;
  const room = shared ? new SharedArrayBuffer(bytes) : new ArrayBuffer(bytes);
  return samples instanceof Int16Array ? new Int16Array(room) : new Float32Array(room);
}

/** Fills the finest level; true where a sample is void. */
function fillFirstLevel(
  samples: ElevationSamples,
  rows: number,
  columns: number,
  voidValue: number,
  maxima: ElevationSamples,
  width: number,
  height: number,
): boolean {
  let hasVoids = false;
  const lastRow = rows - 1;
  const lastColumn = columns - 1;
  for (let by = 0; by < height; by++) {
    // a block reaches one node past its last patch
    const endRow = Math.min(lastRow, by * 4 + 4);
    for (let bx = 0; bx < width; bx++) {
      const left = bx * 4;
      let highest =
        left + 4 <= lastColumn
          ? highestOfFullBlock(samples, columns, voidValue, left, by * 4, endRow)
          : highestOfEdgeBlock(samples, columns, voidValue, left, by * 4, endRow);
      if (Number.isNaN(highest)) {
        hasVoids = true;
        const isKnown = knowsAny(samples, columns, voidValue, left, Math.min(lastColumn, left + 4), by * 4, endRow);
        highest = isKnown ? HIGHEST_GROUND_M : VOID_THROUGHOUT;
      }
      maxima[by * width + bx] = highest;
    }
  }
  return hasVoids;
}

/** The highest of five nodes in each row from `top` to `bottom`; NaN where one of them is void. Written out: it reads every sample of a grid. */
function highestOfFullBlock(
  samples: ElevationSamples,
  columns: number,
  voidValue: number,
  left: number,
  top: number,
  bottom: number,
): number {
  let highest = Number.NEGATIVE_INFINITY;
  let holdsVoid = false;
  for (let row = top; row <= bottom; row++) {
    const at = row * columns + left;
    const a = samples[at] as number;
    const b = samples[at + 1] as number;
    const c = samples[at + 2] as number;
    const d = samples[at + 3] as number;
    const e = samples[at + 4] as number;
    // the sum is NaN where any of them is
    holdsVoid ||= a === voidValue || b === voidValue || c === voidValue || d === voidValue || e === voidValue;
    holdsVoid ||= Number.isNaN(a + b + c + d + e);
    if (a > highest) highest = a;
    if (b > highest) highest = b;
    if (c > highest) highest = c;
    if (d > highest) highest = d;
    if (e > highest) highest = e;
  }
  return holdsVoid ? Number.NaN : highest;
}

/** The same for a block at the eastern edge, which has fewer columns. */
function highestOfEdgeBlock(
  samples: ElevationSamples,
  columns: number,
  voidValue: number,
  left: number,
  top: number,
  bottom: number,
): number {
  let highest = Number.NEGATIVE_INFINITY;
  for (let row = top; row <= bottom; row++) {
    for (let column = left; column < columns; column++) {
      const z = samples[row * columns + column] as number;
      if (z === voidValue || Number.isNaN(z)) return Number.NaN;
      if (z > highest) highest = z;
    }
  }
  return highest;
}

/** Whether any node of a rectangle, its last column and row in it, is known. */
function knowsAny(
  samples: ElevationSamples,
  columns: number,
  voidValue: number,
  left: number,
  right: number,
  top: number,
  bottom: number,
): boolean {
  for (let row = top; row <= bottom; row++) {
    for (let column = left; column <= right; column++) {
      const z = samples[row * columns + column] as number;
      if (z !== voidValue && !Number.isNaN(z)) return true;
    }
  }
  return false;
}

/** Fills a level from the finer one below it, four blocks by four. */
function fillFromFiner(
  maxima: ElevationSamples,
  from: number,
  fromWidth: number,
  fromHeight: number,
  to: number,
  width: number,
  height: number,
): void {
  for (let by = 0; by < height; by++) {
    for (let bx = 0; bx < width; bx++) {
      let highest = Number.NEGATIVE_INFINITY;
      let isVoid = true;
      const lastX = Math.min(fromWidth, bx * 4 + 4);
      const lastY = Math.min(fromHeight, by * 4 + 4);
      for (let y = by * 4; y < lastY; y++) {
        for (let x = bx * 4; x < lastX; x++) {
          const z = maxima[from + y * fromWidth + x] as number;
          if (z > highest) highest = z;
          if (z !== VOID_THROUGHOUT) isVoid = false;
        }
      }
      maxima[to + by * width + bx] = isVoid ? VOID_THROUGHOUT : heightOfMaximum(highest);
    }
  }
}
