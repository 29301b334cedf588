import { DomainError } from "../domain-error";
import { buildMaximumPyramid, type MaximumPyramid } from "./maximum-pyramid";

/** Heights in rows from north to south, each from west to east. Whole metres fit Int16; anything finer takes Float32. */
export type ElevationSamples = Int16Array | Float32Array;

/** Blocks of 64 × 64 patches, in which heights come where they are not all at hand. */
export const GROUND_BLOCK_SHIFT = 6;

/**
 * Heights that are fetched when they are first needed, block by block. Until then the samples of a block are of no meaning, and the
 * first level of its maximum pyramid is no lower than the truth; the other levels are always at hand.
 */
export interface GroundBlocks {
  /**
   * Returns when a block's samples, its edges with them, and its part of the pyramid's first level are in place: at once where
   * they are already.
   */
  need(blockColumn: number, blockRow: number): void;
}

export interface ElevationGridDetails {
  /** Heights above the sea [m], row by row, north to south; not copied, and not to be changed afterwards. */
  readonly samples: ElevationSamples;
  readonly rows: number;
  readonly columns: number;
  /** Latitude of the first row of nodes [deg]. */
  readonly northDeg: number;
  /** Longitude of the first column of nodes [deg]. */
  readonly westDeg: number;
  readonly latStepDeg: number;
  readonly lonStepDeg: number;
  /** The sample that stands for "not measured"; a NaN sample always does. */
  readonly voidValue?: number | undefined;
  /** The maximum pyramid of these samples, where it was built before: by another thread, which shares them. */
  readonly pyramid?: MaximumPyramid | undefined;
  /** Who fetches heights that are not at hand; needs the pyramid as well. */
  readonly blocks?: GroundBlocks | undefined;
}

/**
 * A grid of heights, node registered: each sample is the height at a point, and between four of them the ground is the bilinear
 * surface through them. Its maximum pyramid is built when first asked for.
 */
export class ElevationGrid {
  readonly samples: ElevationSamples;
  readonly rows: number;
  readonly columns: number;
  readonly northDeg: number;
  readonly westDeg: number;
  readonly southDeg: number;
  readonly eastDeg: number;
  readonly latStepDeg: number;
  readonly lonStepDeg: number;
  /** The sample that stands for "not measured"; NaN where only NaN does. */
  readonly voidValue: number;
  /** Who fetches heights that are not at hand; undefined where all are. */
  readonly blocks: GroundBlocks | undefined;
  #pyramid: MaximumPyramid | undefined;

  /** @throws DomainError naming `grid` and what does not fit */
  constructor(details: ElevationGridDetails) {
    const { samples, rows, columns, northDeg, westDeg, latStepDeg, lonStepDeg } = details;
    const whole = Number.isInteger(rows) && Number.isInteger(columns) && rows >= 2 && columns >= 2;
    if (!whole || samples.length !== rows * columns) {
      throw new DomainError({
        param: "grid.samples",
        given: samples.length,
        allowed: `${rows} × ${columns} samples, two rows and two columns at least`,
      });
    }
    if (!(latStepDeg > 0 && lonStepDeg > 0 && Number.isFinite(latStepDeg + lonStepDeg + westDeg))) {
      throw new DomainError({ param: "grid.latStepDeg", given: latStepDeg, allowed: "finite steps greater than 0" });
    }
    const southDeg = northDeg - (rows - 1) * latStepDeg;
    // half a step of grace, for cells whose centres were made nodes
    if (!(northDeg <= 90 + latStepDeg && southDeg >= -90 - latStepDeg)) {
      throw new DomainError({ param: "grid.northDeg", given: northDeg, allowed: "rows within -90 to 90", unit: "deg" });
    }
    this.samples = samples;
    this.rows = rows;
    this.columns = columns;
    this.northDeg = northDeg;
    this.westDeg = westDeg;
    this.southDeg = southDeg;
    this.eastDeg = westDeg + (columns - 1) * lonStepDeg;
    this.latStepDeg = latStepDeg;
    this.lonStepDeg = lonStepDeg;
    this.voidValue = details.voidValue ?? Number.NaN;
    this.blocks = details.blocks;
    this.#pyramid = details.pyramid;
  }

  get pyramid(): MaximumPyramid {
    this.#pyramid ??= buildMaximumPyramid(this.samples, this.rows, this.columns, this.voidValue);
    return this.#pyramid;
  }

  /** Height [m] at a column and row, fractions between nodes; null at a void or outside by more than rounding. */
  elevationAt(column: number, row: number): number | null {
    const slop = 1e-6;
    const lastColumn = this.columns - 1;
    const lastRow = this.rows - 1;
    if (!(column >= -slop && row >= -slop && column <= lastColumn + slop && row <= lastRow + slop)) return null;
    const i = Math.max(0, Math.min(lastColumn - 1, Math.floor(column)));
    const j = Math.max(0, Math.min(lastRow - 1, Math.floor(row)));
    this.blocks?.need(i >> GROUND_BLOCK_SHIFT, j >> GROUND_BLOCK_SHIFT);
    const u = onNode(column - i);
    const v = onNode(row - j);
    const at = j * this.columns + i;
    // a corner of no weight may be void
    const north = this.#between(at, at + 1, u);
    const south = v === 0 ? 0 : this.#between(at + this.columns, at + this.columns + 1, u);
    const height = v === 1 ? south : v === 0 ? north : north + (south - north) * v;
    return Number.isNaN(height) ? null : height;
  }

  #between(west: number, east: number, u: number): number {
    const zw = this.#height(west);
    if (u === 0) return zw;
    const ze = this.#height(east);
    return u === 1 ? ze : zw + (ze - zw) * u;
  }

  #height(index: number): number {
    const z = this.samples[index] as number;
    return z === this.voidValue ? Number.NaN : z;
  }
}

/** A share of a cell, 0 to 1; a hair of rounding off a node is the node. */
const onNode = (share: number): number => (share < 1e-9 ? 0 : share > 1 - 1e-9 ? 1 : share);
