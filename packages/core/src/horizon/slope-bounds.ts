import { RADIANS_PER_DEGREE } from "../angles";
import { heightOfMaximum, type MaximumPyramid, PYRAMID_SHIFTS } from "./maximum-pyramid";
import type { Box, Mosaic, PlacedGrid } from "./mosaic";

/** Sectors round the compass: of 2.8° each. */
const SECTORS = 128;
const SECTORS_PER_RADIAN = SECTORS / (2 * Math.PI);
/** Blocks are looked at whole once their reach from the middle is less than this share of their distance. */
const FINE_ENOUGH = 0.24;
/** Nearer than this everything is followed [m]. */
const NEAR_M = 500;
/** Nothing is looked at in smaller parts [m]. */
const SMALLEST_M = 50;
// the sphere of the mean radius is within 0.6 % of any geodesic of WGS 84 in length and 0.2° in azimuth
const SPHERE_M = 6_371_008.8;
const LENGTH_MARGIN = 0.01;
const AZIMUTH_MARGIN = 0.5 * RADIANS_PER_DEGREE;

/** What a line of sight needs to know of the eye. */
interface Eye {
  readonly elevationM: number;
  readonly effectiveRadiusM: number;
}

/**
 * The steepest that ground can show from one viewpoint, by sector of azimuth and ring of distance: a ray whose skyline is steeper already
 * passes over the ring without a look. Infinite where some ground is not known.
 */
export class SlopeBounds {
  readonly #breaks: Float64Array;
  readonly #rings: number;
  readonly #eye: Eye;
  readonly #sinLatitude: number;
  readonly #cosLatitude: number;
  readonly #latitudeDeg: number;
  /** Of each ring, ring by ring and sector by sector. */
  readonly within: Float64Array;
  /** Of each ring and all beyond it. */
  readonly beyond: Float64Array;
  /** 1 for each ring that a grid reaches into. */
  readonly #covered: Uint8Array;

  /** @param breaks distances at which rings meet [m], from 0 */
  constructor(mosaic: Mosaic, latitudeDeg: number, eye: Eye, breaks: Float64Array) {
    this.#breaks = breaks;
    this.#rings = breaks.length - 1;
    this.#eye = eye;
    this.#latitudeDeg = latitudeDeg;
    this.#sinLatitude = Math.sin(latitudeDeg * RADIANS_PER_DEGREE);
    this.#cosLatitude = Math.cos(latitudeDeg * RADIANS_PER_DEGREE);
    this.within = new Float64Array(SECTORS * this.#rings).fill(Number.NEGATIVE_INFINITY);
    this.#covered = new Uint8Array(this.within.length);
    for (const placed of mosaic.grids) this.#addGrid(placed);
    // where a grid ends the mosaic grants it a cell more, for neighbours whose cells were centred
    const eastDeg = Math.max(0, ...mosaic.grids.map(({ grid }) => grid.lonStepDeg));
    const northDeg = Math.max(0, ...mosaic.grids.map(({ grid }) => grid.latStepDeg));
    for (const { west, east, south, north } of mosaic.uncovered) {
      this.#addUnknown({
        west: west - eastDeg,
        east: east + eastDeg,
        south: Math.max(-90 - latitudeDeg, south - northDeg),
        north: Math.min(90 - latitudeDeg, north + northDeg),
      });
    }
    this.beyond = Float64Array.from(this.within);
    for (let at = this.beyond.length - 2; at >= 0; at--) {
      if ((at + 1) % this.#rings === 0) continue;
      this.beyond[at] = Math.max(this.beyond[at] as number, this.beyond[at + 1] as number);
    }
  }

  /** Where the rings of an azimuth [deg] begin in the tables. */
  sectorAt(azimuthDeg: number): number {
    const sector = Math.floor((azimuthDeg * SECTORS) / 360) % SECTORS;
    return (sector < 0 ? sector + SECTORS : sector) * this.#rings;
  }

  /** Whether no grid reaches into a ring. */
  isEmpty(at: number): boolean {
    return this.#covered[at] === 0;
  }

  #addGrid(placed: PlacedGrid): void {
    const { pyramid } = placed.grid;
    const top = PYRAMID_SHIFTS.length - 1;
    const side = 1 << (PYRAMID_SHIFTS[top] as number);
    for (let row = 0; row < placed.lastRow; row += side) {
      for (let column = 0; column < placed.lastColumn; column += side) {
        this.#addBlock(placed, pyramid, top, column, row);
      }
    }
  }

  #addBlock(placed: PlacedGrid, pyramid: MaximumPyramid, level: number, column: number, row: number): void {
    const shift = PYRAMID_SHIFTS[level] as number;
    const lastColumn = Math.min(placed.lastColumn, column + (1 << shift));
    const lastRow = Math.min(placed.lastRow, row + (1 << shift));
    const halfEast = (0.5 * (lastColumn - column)) / placed.columnsPerDeg;
    const halfNorth = (0.5 * (lastRow - row)) / placed.rowsPerDeg;
    const east = (0.5 * (column + lastColumn) - placed.column0) / placed.columnsPerDeg;
    const north = (placed.row0 - 0.5 * (row + lastRow)) / placed.rowsPerDeg;
    const at =
      (pyramid.offsets[level] as number) + (row >> shift) * (pyramid.widths[level] as number) + (column >> shift);
    if (this.#add(east, north, halfEast, halfNorth, heightOfMaximum(pyramid.maxima[at] as number), level === 0)) return;
    const side = 1 << (PYRAMID_SHIFTS[level - 1] as number);
    for (let r = row; r < lastRow; r += side) {
      for (let c = column; c < lastColumn; c += side) this.#addBlock(placed, pyramid, level - 1, c, r);
    }
  }

  #addUnknown({ west, east, south, north }: Box): void {
    const halfEast = 0.5 * (east - west);
    const halfNorth = 0.5 * (north - south);
    const [x, y] = [west + halfEast, south + halfNorth];
    if (this.#add(x, y, halfEast, halfNorth, Number.POSITIVE_INFINITY, false)) return;
    if (halfEast * Math.cos((this.#latitudeDeg + y) * RADIANS_PER_DEGREE) > halfNorth) {
      this.#addUnknown({ west, east: x, south, north });
      this.#addUnknown({ west: x, east, south, north });
    } else {
      this.#addUnknown({ west, east, south, north: y });
      this.#addUnknown({ west, east, south: y, north });
    }
  }

  /** Counts a rectangle by its middle and half its sides, as offsets from the viewpoint [deg]; false where it is too large for that. */
  #add(
    eastDeg: number,
    northDeg: number,
    halfEastDeg: number,
    halfNorthDeg: number,
    highestM: number,
    smallest: boolean,
  ): boolean {
    const latitude = (this.#latitudeDeg + northDeg) * RADIANS_PER_DEGREE;
    const east = eastDeg * RADIANS_PER_DEGREE;
    const halfEast = halfEastDeg * RADIANS_PER_DEGREE;
    const halfNorth = halfNorthDeg * RADIANS_PER_DEGREE;
    const sin = Math.sin(latitude);
    const cos = Math.cos(latitude);
    const across = cos * Math.sin(east);
    const level = cos * Math.cos(east);
    const along = this.#cosLatitude * sin - this.#sinLatitude * level;
    const depth = 1 - this.#sinLatitude * sin - this.#cosLatitude * level;
    // chords; within the scan's reach they are a thousandth shorter than their arcs
    const distanceM = SPHERE_M * Math.sqrt(across * across + along * along + depth * depth);
    // the cosine is nowhere in the rectangle larger by more than half its height
    const aroundM = SPHERE_M * Math.sqrt(halfNorth * halfNorth + cos * (cos + halfNorth) * halfEast * halfEast);
    const fromM = (distanceM - aroundM) * (1 - LENGTH_MARGIN);
    const breaks = this.#breaks;
    const rings = this.#rings;
    if (fromM > (breaks[rings] as number)) return true;
    const toM = (distanceM + aroundM) * (1 + LENGTH_MARGIN);
    const enclosing = aroundM > 0.5 * distanceM;
    if (!smallest && aroundM > SMALLEST_M && toM > NEAR_M && aroundM > FINE_ENOUGH * distanceM) return false;
    // the sine is the share; up to a half the angle is at most a twentieth larger
    const halfWidth = enclosing ? Math.PI : (1.05 * aroundM) / distanceM + AZIMUTH_MARGIN;
    const azimuth = Math.atan2(across, along);
    const first = Math.floor((azimuth - halfWidth) * SECTORS_PER_RADIAN);
    const last = Math.min(first + SECTORS - 1, Math.floor((azimuth + halfWidth) * SECTORS_PER_RADIAN));
    const { elevationM, effectiveRadiusM } = this.#eye;
    const halfCurvature = 0.5 / effectiveRadiusM;
    const rise = highestM - elevationM;
    // ground under the eye is steepest at its tangent, ground over it where it is nearest
    const steepestAt = rise < 0 ? Math.sqrt(-2 * effectiveRadiusM * rise) : 0;
    const within = this.within;
    const covered = this.#covered;
    const isGround = Number.isFinite(highestM);
    for (let ring = 0; ring < rings && (breaks[ring] as number) <= toM; ring++) {
      const to = Math.min(toM, breaks[ring + 1] as number);
      if (to < fromM) continue;
      const from = Math.max(fromM, breaks[ring] as number, 0);
      const d = Math.max(from, Math.min(to, steepestAt));
      // a hair more, so that rounding never passes over what stands as high
      const steepest = d > 0 ? rise / d - d * halfCurvature + 1e-10 : Number.POSITIVE_INFINITY;
      for (let s = first; s <= last; s++) {
        const at = sectorOnCompass(s) * rings + ring;
        if (steepest > (within[at] as number)) within[at] = steepest;
        if (isGround) covered[at] = 1;
      }
    }
    return true;
  }
}

/** The sector that a count from north leads to, less than a turn past either end. */
function sectorOnCompass(sector: number): number {
  if (sector < 0) return sector + SECTORS;
  return sector >= SECTORS ? sector - SECTORS : sector;
}
