import { GROUND_BLOCK_SHIFT } from "./grid";
import { HIGHEST_GROUND_M, PYRAMID_SHIFTS, VOID_THROUGHOUT } from "./maximum-pyramid";
import type { PlacedGrid } from "./mosaic";
import type { Eye, Trace } from "./trace";

/** A straight line over a grid, in columns and rows, from one distance to another. It is filled anew for each: numbers as arguments would be boxed. */
export interface GridLine {
  /** Where it begins. */
  column: number;
  row: number;
  /** Columns and rows for each metre. */
  columnRate: number;
  rowRate: number;
  /** Distances of its ends [m]. */
  fromM: number;
  toM: number;
}

const TOP = PYRAMID_SHIFTS.length;
/** The finest level that is at hand where heights are fetched block by block. */
const AT_HAND = 2;
/** Of the blocks of the first level. */
const FIRST_SHIFT = PYRAMID_SHIFTS[0];

/**
 * Follows a line over a grid and keeps the steepest line of sight in `trace`.
 *
 * Front to back through the maximum pyramid (levels 1 to 5; level 0 is a patch between four nodes): a block is passed over when its
 * highest ground lies under the lowest line of sight across it, which is convex in distance and so lowest at an end or at its
 * vertex. Along a straight line over a patch the height is quadratic in distance, z = p + q·d + s·d², and the tangent
 * (z − eye)/d − d/2R = A/d + B + C·d is steepest at an end or at √(A/C).
 *
 * It stays one loop: split into a function for blocks and one for patches, the horizon took a fifth longer, since where the walk is
 * and the line of sight then pass through memory at each change between them.
 */
// biome-ignore lint/complexity/noExcessiveCognitiveComplexity: the innermost loop of every horizon; see above
export function traceAcross(placed: PlacedGrid, line: GridLine, eye: Eye, trace: Trace): void {
  const columnFrom = line.column;
  const rowFrom = line.row;
  const columnRate = line.columnRate;
  const rowRate = line.rowRate;
  const fromM = line.fromM;
  const toM = line.toM;
  const eyeM = eye.elevationM;
  const effectiveRadiusM = eye.effectiveRadiusM;
  const grid = placed.grid;
  const samples = grid.samples;
  const columns = grid.columns;
  const voidValue = grid.voidValue;
  const pyramid = grid.pyramid;
  const maxima = pyramid.maxima;
  const hasVoids = pyramid.hasVoids;
  const blocks = grid.blocks;
  const offsets = pyramid.offsets;
  const widths = pyramid.widths;
  const lastI = columns - 2;
  const lastJ = grid.rows - 2;
  const halfCurvature = 0.5 / effectiveRadiusM;
  // the side of a block that the line leaves by, on each axis: 1 for the eastern and southern
  const eastward = columnRate > 0 ? 1 : 0;
  const southward = rowRate > 0 ? 1 : 0;
  const eastStep = columnRate > 0 ? 1 : -1;
  const southStep = rowRate > 0 ? 1 : -1;
  // a line along the grid never leaves by that axis
  let columnInverse = columnRate === 0 ? 0 : 1 / columnRate;
  let columnOrigin = columnRate === 0 ? Number.POSITIVE_INFINITY : fromM;
  let rowInverse = rowRate === 0 ? 0 : 1 / rowRate;
  let rowOrigin = rowRate === 0 ? Number.POSITIVE_INFINITY : fromM;

  let slope = trace.slope;
  /** Distance at which the line of sight is lowest over the sea. */
  let lowestAt = -slope * effectiveRadiusM;
  let level = blocks !== undefined && trace.level < AT_HAND ? AT_HAND : trace.level;
  let d = fromM;
  // a line in the grid begins at most a hair outside it: what is cut off below zero is the same as its floor, once held to the grid
  let i = clamp(columnFrom | 0, 0, lastI);
  let j = clamp(rowFrom | 0, 0, lastJ);

  for (;;) {
    if (level === 0) {
      // patch by patch to the end of the block of the first level
      const blockI = i >> FIRST_SHIFT;
      const blockJ = j >> FIRST_SHIFT;
      let exitColumn = columnOrigin + (i + eastward - columnFrom) * columnInverse;
      let exitRow = rowOrigin + (j + southward - rowFrom) * rowInverse;
      // whether where the line enters was looked at as the exit of the patch before
      let entrySeen = false;
      for (;;) {
        let exit = exitColumn < exitRow ? exitColumn : exitRow;
        if (exit > toM) exit = toM;
        if (exit < d) exit = d;
        const vertex = clamp(lowestAt, d, exit);
        const sight = eyeM + slope * vertex + vertex * vertex * halfCurvature;
        const at = j * columns + i;
        const z00 = samples[at] as number;
        const z01 = samples[at + 1] as number;
        const z10 = samples[at + columns] as number;
        const z11 = samples[at + columns + 1] as number;
        if (hasVoids && holdsVoid(z00, z01, z10, z11, voidValue)) {
          noteVoid(trace.voids, d, exit, sight);
          entrySeen = false;
        } else if (z00 > sight || z01 > sight || z10 > sight || z11 > sight) {
          // the bilinear height along the line, as a quadratic in the distance past d
          const u = columnFrom + columnRate * (d - fromM) - i;
          const v = rowFrom + rowRate * (d - fromM) - j;
          const zu = z01 - z00;
          const zv = z10 - z00;
          const zuv = z11 - z10 - zu;
          const p = z00 + zu * u + zv * v + zuv * u * v - eyeM;
          const q = zu * columnRate + zv * rowRate + zuv * (u * rowRate + v * columnRate);
          const s = zuv * columnRate * rowRate;
          const steepest = steepestOver(p, q, s, d, exit, slope, halfCurvature, entrySeen, trace);
          if (steepest > slope) {
            slope = steepest;
            trace.grid = placed;
            lowestAt = -slope * effectiveRadiusM;
          }
          entrySeen = true;
        } else entrySeen = false;

        if (exit >= toM) {
          trace.slope = slope;
          trace.level = 0;
          return;
        }
        d = exit;
        // the line is in the grid to its end: what leaves before runs along the edge, out of it by no more than rounding
        if (exitColumn <= exitRow) {
          i += eastStep;
          if (i < 0 || i > lastI) {
            i -= eastStep;
            columnInverse = 0;
            columnOrigin = Number.POSITIVE_INFINITY;
          }
          exitColumn = columnOrigin + (i + eastward - columnFrom) * columnInverse;
          if (i >> FIRST_SHIFT !== blockI) break;
        } else {
          j += southStep;
          if (j < 0 || j > lastJ) {
            j -= southStep;
            rowInverse = 0;
            rowOrigin = Number.POSITIVE_INFINITY;
          }
          exitRow = rowOrigin + (j + southward - rowFrom) * rowInverse;
          if (j >> FIRST_SHIFT !== blockJ) break;
        }
      }
      level = 1;
      // what is below may not be at hand
      if (blocks !== undefined && entersGroundBlock(i, j, blockI << FIRST_SHIFT, blockJ << FIRST_SHIFT))
        level = AT_HAND;
    }

    const shift = level << 1;
    const bi = i >> shift;
    const bj = j >> shift;
    const exitColumn = columnOrigin + (((bi + eastward) << shift) - columnFrom) * columnInverse;
    const exitRow = rowOrigin + (((bj + southward) << shift) - rowFrom) * rowInverse;
    let exit = exitColumn < exitRow ? exitColumn : exitRow;
    if (exit > toM) exit = toM;
    if (exit < d) exit = d;
    const vertex = clamp(lowestAt, d, exit);
    const sight = eyeM + slope * vertex + vertex * vertex * halfCurvature;
    const highest = maxima[(offsets[level - 1] as number) + bj * (widths[level - 1] as number) + bi] as number;
    if (highest === VOID_THROUGHOUT) noteVoid(trace.voids, d, exit, sight);
    else if (highest > sight) {
      if (level === AT_HAND && blocks !== undefined) blocks.need(i >> GROUND_BLOCK_SHIFT, j >> GROUND_BLOCK_SHIFT);
      level--;
      continue;
    }

    if (exit >= toM) break;
    d = exit;
    // step by the axis that was crossed, so that rounding never holds the line in a block
    const oldI = i;
    const oldJ = j;
    if (exitColumn <= exitRow) {
      i = ((bi + eastward) << shift) - 1 + eastward;
      if (i < 0 || i > lastI) {
        i = i < 0 ? 0 : lastI;
        columnInverse = 0;
        columnOrigin = Number.POSITIVE_INFINITY;
      }
      j = holdToBlock((rowFrom + rowRate * (d - fromM)) | 0, bj, shift, lastJ);
    } else {
      j = ((bj + southward) << shift) - 1 + southward;
      if (j < 0 || j > lastJ) {
        j = j < 0 ? 0 : lastJ;
        rowInverse = 0;
        rowOrigin = Number.POSITIVE_INFINITY;
      }
      i = holdToBlock((columnFrom + columnRate * (d - fromM)) | 0, bi, shift, lastI);
    }
    level = levelAfter(level, i, j, oldI, oldJ, blocks !== undefined);
  }
  trace.slope = slope;
  trace.level = level;
}

const holdsVoid = (z00: number, z01: number, z10: number, z11: number, voidValue: number): boolean =>
  Number.isNaN(z00 + z01 + z10 + z11) ||
  z00 === voidValue ||
  z01 === voidValue ||
  z10 === voidValue ||
  z11 === voidValue;

function clamp(value: number, low: number, high: number): number {
  if (value < low) return low;
  return value > high ? high : value;
}

/** A column or row held to the block that the line has just crossed. */
function holdToBlock(at: number, block: number, shift: number, lastOfGrid: number): number {
  const first = block << shift;
  const last = first + (1 << shift) - 1;
  return clamp(at, first, last > lastOfGrid ? lastOfGrid : last);
}

/** The level to go on at: a coarser one into another of its blocks, one that is at hand into heights that may not be. */
function levelAfter(level: number, i: number, j: number, oldI: number, oldJ: number, isFetched: boolean): number {
  const coarser = (level + 1) << 1;
  const next =
    level < TOP && (i >> coarser !== oldI >> coarser || j >> coarser !== oldJ >> coarser) ? level + 1 : level;
  return isFetched && next < AT_HAND && entersGroundBlock(i, j, oldI, oldJ) ? AT_HAND : next;
}

/** Whether two patches lie in different blocks of heights that are fetched together. */
const entersGroundBlock = (i: number, j: number, oldI: number, oldJ: number): boolean =>
  i >> GROUND_BLOCK_SHIFT !== oldI >> GROUND_BLOCK_SHIFT || j >> GROUND_BLOCK_SHIFT !== oldJ >> GROUND_BLOCK_SHIFT;

/** Notes a stretch without heights, where the highest ground on Earth would be seen over the line of sight. */
function noteVoid(voids: number[], fromM: number, toM: number, sightM: number): void {
  if (!(HIGHEST_GROUND_M > sightM)) return;
  const last = voids.length - 1;
  if (last >= 0 && voids[last] === fromM) voids[last] = toM;
  else voids.push(fromM, toM);
}

/**
 * The steepest line of sight over a patch, from where the line enters it at d to where it leaves, or the slope so far; notes its
 * distance. The height over the eye is p + q·x + s·x² in the distance x past d; as a tangent, height/d − d/2R = A/d + B + C·d.
 */
function steepestOver(
  p: number,
  q: number,
  s: number,
  d: number,
  exit: number,
  slopeSoFar: number,
  halfCurvature: number,
  entrySeen: boolean,
  trace: Trace,
): number {
  let slope = slopeSoFar;
  if (!entrySeen && d > 0) {
    const entry = p / d - d * halfCurvature;
    if (entry > slope) {
      slope = entry;
      trace.distanceM = d;
    }
  }
  const width = exit - d;
  const rise = p + (q + s * width) * width;
  // a millimetre lower than the line of sight is surely no steeper: no need to divide
  if (exit > 0 && rise > (slope + exit * halfCurvature) * exit - 1e-3) {
    const leaving = rise / exit - exit * halfCurvature;
    if (leaving > slope) {
      slope = leaving;
      trace.distanceM = exit;
    }
  }
  const a = p + (s * d - q) * d;
  const c = s - halfCurvature;
  // it grows steeper where the line enters, and less steep where it leaves
  if (a < c * d * d && c * exit * exit < a && a < 0) {
    const steepest = Math.sqrt(a / c);
    if (steepest > d && steepest < exit) {
      const past = steepest - d;
      const crest = (p + (q + s * past) * past) / steepest - steepest * halfCurvature;
      if (crest > slope) {
        slope = crest;
        trace.distanceM = steepest;
      }
    }
  }
  return slope;
}
