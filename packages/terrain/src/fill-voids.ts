import { setImmediate } from "node:timers/promises";
import { ElevationGrid } from "@fieldstop/core/horizon";
import type { Box } from "./degree-cell";

/** Ground that may fill voids: where it is, and how to get at it. */
export interface Filler {
  readonly box: Box;
  /** Null where it cannot be had. */
  load(): Promise<ElevationGrid | null>;
}

/** Below this no ground lies, so that a void value there can never be a height. */
const NO_GROUND_M = -1000;
/** Nodes filled before others have their turn: some 50 ms. */
const AT_A_TIME = 500_000;

/**
 * The grid with its voids filled from others, the first that knows a point counting: the rim of a survey, the corners of a projected
 * file, the hole in a tile. Only those are loaded that may know of a void.
 */
export async function fillVoids(grid: ElevationGrid, fillers: readonly Filler[]): Promise<ElevationGrid> {
  let voids = voidsOf(grid);
  let samples: ElevationGrid["samples"] | undefined;
  const whole = grid.samples instanceof Int16Array && grid.voidValue < NO_GROUND_M;
  for (const { box, load } of fillers) {
    if (voids.length === 0) break;
    if (!someWithin(grid, voids, box)) continue;
    const filler = await load();
    if (filler === null) continue;
    samples ??= whole ? grid.samples.slice() : withNaN(grid);
    voids = await fill(grid, samples, voids, filler, whole);
  }
  if (samples === undefined) return grid;
  const voidValue = whole ? grid.voidValue : undefined;
  const { rows, columns, northDeg, westDeg, latStepDeg, lonStepDeg } = grid;
  return new ElevationGrid({ samples, rows, columns, northDeg, westDeg, latStepDeg, lonStepDeg, voidValue });
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

function withNaN({ samples, voidValue }: ElevationGrid): Float32Array {
  return Float32Array.from(samples, (height) => (height === voidValue ? Number.NaN : height));
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

/** Fills what the filler knows, and returns the voids that are left. */
async function fill(
  grid: ElevationGrid,
  samples: ElevationGrid["samples"],
  voids: Uint32Array,
  filler: ElevationGrid,
  whole: boolean,
): Promise<Uint32Array> {
  const { columns, northDeg, westDeg, latStepDeg, lonStepDeg } = grid;
  const box = { west: filler.westDeg, east: filler.eastDeg, north: filler.northDeg, south: filler.southDeg };
  const turn = turnOf(grid, box);
  let left = 0;
  for (let k = 0; k < voids.length; k++) {
    if (k % AT_A_TIME === AT_A_TIME - 1) await setImmediate();
    const at = voids[k] as number;
    const row = (filler.northDeg - northDeg + Math.floor(at / columns) * latStepDeg) / filler.latStepDeg;
    const column = (westDeg + turn + (at % columns) * lonStepDeg - filler.westDeg) / filler.lonStepDeg;
    const height = filler.elevationAt(column, row);
    if (height === null) voids[left++] = at;
    else samples[at] = whole ? Math.round(height) : height;
  }
  return voids.subarray(0, left);
}
