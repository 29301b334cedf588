import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { ElevationGrid } from "@fieldstop/core/horizon";
import { readHgt } from "@fieldstop/terrain";

export const demoFolder = join(import.meta.dirname, "../../demo/elevation");
/** Real tiles, where they lie beside the repository. */
export const realFolder = join(import.meta.dirname, "../../../shared/elevation");

export interface Ground {
  readonly name: string;
  /** What the scan reads. */
  readonly grids: readonly ElevationGrid[];
  /** What the marcher reads. */
  readonly whole: ElevationGrid;
  readonly places: readonly { latitude: number; longitude: number }[];
}

type Bounds = readonly [south: number, north: number, west: number, east: number];

export async function groundOf(name: string, folder: string, box: Bounds, count: number): Promise<Ground> {
  const names = readdirSync(folder).filter((file) => /\.hgt(\.gz|\.zip)?$/.test(file));
  const grids = await Promise.all(names.map((file) => readHgt(file, readFileSync(join(folder, file)))));
  const whole = puzzled(grids);
  return { name, grids, whole, places: placesOnLand(whole, box, count) };
}

/** Tiles of 3″ put together to one grid. */
function puzzled(tiles: readonly ElevationGrid[]): ElevationGrid {
  const north = Math.max(...tiles.map((tile) => tile.northDeg));
  const west = Math.min(...tiles.map((tile) => tile.westDeg));
  const rows = Math.round((north - Math.min(...tiles.map((tile) => tile.southDeg))) * 1200) + 1;
  const columns = Math.round((Math.max(...tiles.map((tile) => tile.eastDeg)) - west) * 1200) + 1;
  const samples = new Int16Array(rows * columns);
  for (const tile of tiles) {
    const top = Math.round((north - tile.northDeg) * 1200);
    const left = Math.round((tile.westDeg - west) * 1200);
    for (let row = 0; row < tile.rows; row++) {
      samples.set(tile.samples.subarray(row * 1201, (row + 1) * 1201), (top + row) * columns + left);
    }
  }
  return gridAt(samples, rows, columns, north, west, 1200);
}

/** Height [m] and rates along and across [rad/cell] of made-up hills, from the size of a massif down to that of a boulder field. */
export const HILL_WAVES = [
  [700, 0.002, 0.0017],
  [350, 0.0131, 0.0103],
  [120, 0.047, 0.053],
  [40, 0.21, 0.19],
  [8, 1.3, 1.1],
] as const;

/** Hills from the size of a massif down to that of a boulder field, three tiles by three of 1″, the same at each run. */
export function madeUpHills(): Ground {
  const side = 3 * 3600 + 1;
  const samples = new Int16Array(side * side);
  const across = HILL_WAVES.map(([height, rate]) =>
    Float64Array.from({ length: side }, (_, i) => height * Math.sin(i * rate)),
  );
  const along = HILL_WAVES.map(([, , rate]) => Float64Array.from({ length: side }, (_, i) => Math.cos(i * rate + 0.3)));
  for (let row = 0; row < side; row++) {
    const [a = 0, b = 0, c = 0, d = 0, e = 0] = along.map((wave) => wave[row] as number);
    const [v, w, x, y, z] = across as [Float64Array, Float64Array, Float64Array, Float64Array, Float64Array];
    for (let i = 0; i < side; i++) {
      const height = 500 + a * (v[i] as number) + b * (w[i] as number) + c * (x[i] as number) + d * (y[i] as number);
      samples[row * side + i] = Math.max(0, Math.round(height + e * (z[i] as number)));
    }
  }
  const whole = gridAt(samples, side, side, 47, 6, 3600);
  return {
    name: "made-up hills, 1″",
    grids: cutInNine(whole),
    whole,
    places: placesOnLand(whole, [45.2, 45.8, 7.2, 7.8], 8),
  };
}

/** Tiles of a degree, their edges shared, as files have them. */
function cutInNine(whole: ElevationGrid): ElevationGrid[] {
  const side = 3601;
  return Array.from({ length: 9 }, (_, tile) => {
    const top = Math.floor(tile / 3) * (side - 1);
    const left = (tile % 3) * (side - 1);
    const samples = new Int16Array(side * side);
    for (let row = 0; row < side; row++) {
      const from = (top + row) * whole.columns + left;
      samples.set((whole.samples as Int16Array).subarray(from, from + side), row * side);
    }
    return gridAt(samples, side, side, whole.northDeg - top / 3600, whole.westDeg + left / 3600, 3600);
  });
}

function gridAt(
  samples: Int16Array,
  rows: number,
  columns: number,
  northDeg: number,
  westDeg: number,
  perDegree: number,
): ElevationGrid {
  const step = 1 / perDegree;
  return new ElevationGrid({
    samples,
    rows,
    columns,
    northDeg,
    westDeg,
    latStepDeg: step,
    lonStepDeg: step,
    voidValue: -32768,
  });
}

/** Places above the sea, spread over a box the same way at each run. */
function placesOnLand(grid: ElevationGrid, box: Bounds, count: number): Ground["places"] {
  const [south, north, west, east] = box;
  const places: { latitude: number; longitude: number }[] = [];
  for (let i = 1; places.length < count; i++) {
    // the plastic number's low-discrepancy sequence
    const latitude = south + ((i * 0.7548776662466927) % 1) * (north - south);
    const longitude = west + ((i * 0.5698402909980532) % 1) * (east - west);
    if ((heightAt(grid, latitude, longitude) ?? 0) > 0) places.push({ latitude, longitude });
  }
  return places;
}

export const heightAt = (grid: ElevationGrid, latitude: number, longitude: number): number | null =>
  grid.elevationAt((longitude - grid.westDeg) / grid.lonStepDeg, (grid.northDeg - latitude) / grid.latStepDeg);
