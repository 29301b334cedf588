import { setImmediate } from "node:timers/promises";
import type { ElevationGrid } from "@fieldstop/core/horizon";
import type { Box } from "./degree-cell";
import { PreparedBlocks } from "./prepared-blocks";
import { openGrid, type SharedGrid, sharedGrid, withPyramid } from "./shared-grid";

/** Ground that may fill voids: where it is, and how to get at it. */
export interface Filler {
  readonly box: Box;
  /** Null where it cannot be had. */
  load(): Promise<ElevationGrid | null>;
}

/** Below this no ground lies, so that a void value there can never be a height. */
const NO_GROUND_M = -1000;
/** Nodes looked at before others have their turn: a millisecond or two. */
const AT_A_TIME = 20_000;

/** A grid with voids, and ground that may know of them. */
export interface FillJob {
  readonly grid: SharedGrid;
  readonly filler: SharedGrid;
}

/** A grid with voids, and where they may be looked for. */
export interface VoidsJob {
  readonly grid: SharedGrid;
  readonly box: Box;
}

export interface FillWork {
  hasVoidsWithin(job: VoidsJob): Promise<boolean>;
  /** The grid with its voids filled as far as the filler knows, in shared memory with its maximum pyramid. */
  fillFrom(job: FillJob): Promise<SharedGrid>;
}

/**
 * The grid with its voids filled from others, the first that knows a point counting: the rim of a survey, the corners of a projected
 * file, the hole in a tile. Only those are loaded that may know of a void.
 */
export async function fillVoids(
  grid: ElevationGrid,
  fillers: readonly Filler[],
  work: FillWork,
): Promise<ElevationGrid> {
  let filled = grid;
  for (const { box, load } of fillers) {
    const { pyramid } = filled;
    if (!pyramid.hasVoids) break;
    if (!(await work.hasVoidsWithin({ grid: sharedGrid(filled, pyramid), box }))) continue;
    const filler = await load();
    if (filler === null) continue;
    const job = { grid: sharedGrid(filled, pyramid), filler: sharedGrid(filler, filler.pyramid) };
    filled = openGrid(await work.fillFrom(job));
  }
  return filled;
}

export async function hasVoidsWithin({ grid: details, box }: VoidsJob): Promise<boolean> {
  const grid = wholeGrid(details);
  return someWithin(grid, voidsOf(grid), box);
}

export async function fillFrom({ grid: details, filler }: FillJob): Promise<SharedGrid> {
  const grid = wholeGrid(details);
  const whole = grid.samples instanceof Int16Array && grid.voidValue < NO_GROUND_M;
  const samples = whole ? copyOf(grid) : withNaN(grid);
  await fill(grid, samples, voidsOf(grid), openGrid(filler), whole);
  const voidValue = whole ? grid.voidValue : undefined;
  const { rows, columns, northDeg, westDeg, latStepDeg, lonStepDeg } = grid;
  return withPyramid({ samples, rows, columns, northDeg, westDeg, latStepDeg, lonStepDeg, voidValue });
}

/** A grid with all its heights in memory, since a void may be anywhere. */
function wholeGrid(details: SharedGrid): ElevationGrid {
  const grid = openGrid(details);
  if (grid.blocks instanceof PreparedBlocks) grid.blocks.needAll();
  return grid;
}

function voidsOf({ samples, voidValue }: ElevationGrid): Uint32Array {
  const isVoid = (height: number) => height === voidValue || Number.isNaN(height);
  let count = 0;
  for (const height of samples) if (isVoid(height)) count++;
  const voids = new Uint32Array(count);
  let next = 0;
  for (let i = 0; next < count; i++) if (isVoid(samples[i] as number)) voids[next++] = i;
  return voids;
}

function copyOf({ samples }: ElevationGrid): Int16Array {
  const copy = new Int16Array(new SharedArrayBuffer(samples.length * Int16Array.BYTES_PER_ELEMENT));
  copy.set(samples);
  return copy;
}

function withNaN({ samples, voidValue }: ElevationGrid): Float32Array {
  const copy = new Float32Array(new SharedArrayBuffer(samples.length * Float32Array.BYTES_PER_ELEMENT));
  copy.set(samples);
  for (let i = 0; i < copy.length; i++) if (copy[i] === voidValue) copy[i] = Number.NaN;
  return copy;
}

function someWithin(grid: ElevationGrid, voids: Uint32Array, box: Box): boolean {
  const turn = turnOf(grid, box);
  for (const at of voids) {
    const latitude = grid.northDeg - Math.floor(at / grid.columns) * grid.latStepDeg;
    if (latitude > box.north || latitude < box.south) continue;
    const longitude = grid.westDeg + (at % grid.columns) * grid.lonStepDeg + turn;
    if (longitude >= box.west && longitude <= box.east) return true;
  }
  return false;
}

/** Whole turns that bring a grid's longitudes to a box's. */
const turnOf = (grid: ElevationGrid, box: Box): number =>
  360 * Math.round(((box.west + box.east) / 2 - (grid.westDeg + grid.eastDeg) / 2) / 360);

/** Fills what the filler knows. */
async function fill(
  grid: ElevationGrid,
  samples: ElevationGrid["samples"],
  voids: Uint32Array,
  filler: ElevationGrid,
  whole: boolean,
): Promise<void> {
  const { columns, northDeg, westDeg, latStepDeg, lonStepDeg } = grid;
  const box = { west: filler.westDeg, east: filler.eastDeg, north: filler.northDeg, south: filler.southDeg };
  const turn = turnOf(grid, box);
  for (let k = 0; k < voids.length; k++) {
    if (k % AT_A_TIME === AT_A_TIME - 1) await setImmediate();
    const at = voids[k] as number;
    const row = (filler.northDeg - northDeg + Math.floor(at / columns) * latStepDeg) / filler.latStepDeg;
    const column = (westDeg + turn + (at % columns) * lonStepDeg - filler.westDeg) / filler.lonStepDeg;
    const height = filler.elevationAt(column, row);
    if (height !== null) samples[at] = whole ? Math.round(height) : height;
  }
}
