import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { ElevationGrid, HorizonScanner, scanHorizon } from "@fieldstop/core/horizon";
import { createTerrain, readHgt } from "@fieldstop/terrain";
import geodesic from "geographiclib-geodesic";

/**
 * The horizon scan against a plain marcher at a quarter of a cell, alternating in one run, out to 150 km: on the demo island's nine 3″
 * tiles, on four real ones where they lie beside the repository, and on three degrees by three of made-up hills at 1″. The marcher
 * has the same geodesics, curvature and bilinear ground; it reads one grid put together from the tiles, the scan the tiles themselves.
 */
const EFFECTIVE_RADIUS_M = 6_371_008.8 / (1 - 0.13);
const RADIUS_M = 150_000;
const EYE_M = 2;
const WARM_UP = 4;

interface Ground {
  readonly name: string;
  /** What the scan reads. */
  readonly grids: readonly ElevationGrid[];
  /** What the marcher reads. */
  readonly whole: ElevationGrid;
  readonly places: readonly { latitude: number; longitude: number }[];
}

const demoFolder = join(import.meta.dirname, "../demo/elevation");
const realFolder = join(import.meta.dirname, "../../shared/elevation");

type Bounds = readonly [south: number, north: number, west: number, east: number];

async function groundOf(name: string, folder: string, box: Bounds, count: number): Promise<Ground> {
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

/** Hills from the size of a massif down to that of a boulder field, 3° by 3° at 1″. */
function madeUpHills(): Ground {
  const side = 3 * 3600 + 1;
  const samples = new Int16Array(side * side);
  const waves = [
    [700, 0.002, 0.0017],
    [350, 0.0131, 0.0103],
    [120, 0.047, 0.053],
    [40, 0.21, 0.19],
    [8, 1.3, 1.1],
  ] as const;
  const across = waves.map(([height, rate]) =>
    Float64Array.from({ length: side }, (_, i) => height * Math.sin(i * rate)),
  );
  const along = waves.map(([, , rate]) => Float64Array.from({ length: side }, (_, i) => Math.cos(i * rate + 0.3)));
  for (let row = 0; row < side; row++) {
    const [a = 0, b = 0, c = 0, d = 0, e = 0] = along.map((wave) => wave[row] as number);
    const [v, w, x, y, z] = across as [Float64Array, Float64Array, Float64Array, Float64Array, Float64Array];
    for (let i = 0; i < side; i++) {
      const height = 500 + a * (v[i] as number) + b * (w[i] as number) + c * (x[i] as number) + d * (y[i] as number);
      samples[row * side + i] = Math.max(0, Math.round(height + e * (z[i] as number)));
    }
  }
  const whole = gridAt(samples, side, side, 47, 6, 3600);
  return { name: "made-up hills, 1″", grids: [whole], whole, places: placesOnLand(whole, [45.2, 45.8, 7.2, 7.8], 8) };
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

const heightAt = (grid: ElevationGrid, latitude: number, longitude: number): number | null =>
  grid.elevationAt((longitude - grid.westDeg) / grid.lonStepDeg, (grid.northDeg - latitude) / grid.latStepDeg);

/** Apparent altitudes by marching each ray; positions by interpolation between exact geodesic points a kilometre apart. */
function march(grid: ElevationGrid, latitude: number, longitude: number, azimuthsDeg: readonly number[]): number[] {
  const { samples, columns } = grid;
  const column = (lon: number) => (lon - grid.westDeg) / grid.lonStepDeg;
  const row = (lat: number) => (grid.northDeg - lat) / grid.latStepDeg;
  const eyeM = (heightAt(grid, latitude, longitude) as number) + EYE_M;
  const pieceM = 1000;
  // 111,195 m to a degree on the mean sphere
  const cellM = 111_195 * grid.lonStepDeg * Math.cos((latitude * Math.PI) / 180);
  const perPiece = Math.ceil(pieceM / (cellM / 4));
  return azimuthsDeg.map((azimuth) => {
    const line = geodesic.Geodesic.WGS84.DirectLine(latitude, longitude, azimuth, RADIUS_M);
    let best = Number.NEGATIVE_INFINITY;
    let c0 = column(longitude);
    let r0 = row(latitude);
    for (let from = 0; from < RADIUS_M; from += pieceM) {
      const end = line.Position(from + pieceM);
      const c1 = column(end.lon2 as number);
      const r1 = row(end.lat2 as number);
      for (let i = 1; i <= perPiece; i++) {
        const t = i / perPiece;
        const c = c0 + (c1 - c0) * t;
        const r = r0 + (r1 - r0) * t;
        const ci = Math.floor(c);
        const ri = Math.floor(r);
        if (ci < 0 || ri < 0 || ci >= columns - 1 || ri >= grid.rows - 1) break;
        const at = ri * columns + ci;
        const u = c - ci;
        const v = r - ri;
        const top = (samples[at] as number) * (1 - u) + (samples[at + 1] as number) * u;
        const bottom = (samples[at + columns] as number) * (1 - u) + (samples[at + columns + 1] as number) * u;
        const d = from + t * pieceM;
        const slope = (top + (bottom - top) * v - eyeM) / d - d / (2 * EFFECTIVE_RADIUS_M);
        if (slope > best) best = slope;
      }
      c0 = c1;
      r0 = r1;
    }
    return (Math.atan(best) * 180) / Math.PI;
  });
}

const quantile = (times: readonly number[], q: number): number =>
  [...times].sort((a, b) => a - b)[Math.round(q * (times.length - 1))] as number;
const ms = (value: number): string => value.toFixed(value < 1 ? 3 : 2);

function timed<T>(run: () => T): [number, T] {
  const start = performance.now();
  const result = run();
  return [performance.now() - start, result];
}

function measure({ name, grids, whole, places }: Ground): Record<string, string> {
  const [pyramidMs] = timed(() => grids.map((grid) => grid.pyramid));
  const coarse = Array.from({ length: 720 }, (_, i) => i / 2);
  const fine = Array.from({ length: 3600 }, (_, i) => i / 10);
  const scan = (place: (typeof places)[number], azimuthsDeg: readonly number[]) =>
    timed(() => scanHorizon(grids, { ...place, eyeHeightM: EYE_M }, { azimuthsDeg, radiusM: RADIUS_M }));
  for (let i = 0; i < WARM_UP; i++) for (const place of places) scan(place, coarse);
  const times = { coarse: [] as number[], fine: [] as number[], march: [] as number[], single: [] as number[] };
  let missedDeg = 0;
  for (const place of places) {
    const [marchMs, marched] = timed(() => march(whole, place.latitude, place.longitude, coarse));
    times.march.push(marchMs);
    for (let i = 0; i < 3; i++) {
      const [scanMs, scanned] = scan(place, coarse);
      times.coarse.push(scanMs);
      if (i > 0) continue;
      scanned.altitudesDeg.forEach((altitude, k) => {
        // where the sea beyond the data makes the skyline the marcher has nothing to find
        const known = (scanned.distancesM[k] as number) < (scanned.reachesM[k] as number);
        if (known) missedDeg = Math.max(missedDeg, altitude - (marched[k] as number));
      });
    }
    times.fine.push(scan(place, fine)[0]);
    const scanner = new HorizonScanner(grids, { ...place, eyeHeightM: EYE_M }, { radiusM: RADIUS_M });
    for (let i = 0; i < 300; i++) times.single.push(1000 * timed(() => scanner.at((i * 137.5) % 360))[0]);
  }
  const bytes = grids.reduce((sum, grid) => sum + grid.pyramid.maxima.byteLength / grid.samples.byteLength, 0);
  return {
    ground: name,
    "720 p50 [ms]": ms(quantile(times.coarse, 0.5)),
    "720 p99": ms(quantile(times.coarse, 0.99)),
    "3600 p50": ms(quantile(times.fine, 0.5)),
    "march 720 p50": ms(quantile(times.march, 0.5)),
    "march / scan": (quantile(times.march, 0.5) / quantile(times.coarse, 0.5)).toFixed(1),
    "march misses [deg]": missedDeg.toFixed(2),
    "one azimuth [µs]": ms(quantile(times.single, 0.5)),
    "pyramid [ms/Msample]": ms(pyramidMs / (grids.reduce((sum, grid) => sum + grid.samples.length, 0) / 1e6)),
    "pyramid / grid [%]": ((100 * bytes) / grids.length).toFixed(1),
  };
}

/** From a folder to an answer, tiles unpacked on the way; the second place finds them in memory. */
async function cold(name: string, folder: string, places: Ground["places"]): Promise<Record<string, string>> {
  const start = performance.now();
  const terrain = await createTerrain({ sources: [folder] });
  const opened = performance.now();
  await terrain.horizonAt({ ...(places[0] as Ground["places"][number]), eyeHeightM: EYE_M });
  const answered = performance.now();
  await terrain.horizonAt({ ...(places[1] as Ground["places"][number]), eyeHeightM: EYE_M });
  return {
    ground: name,
    "open the folder [ms]": ms(opened - start),
    "first place, 1440 azimuths": ms(answered - opened),
    "second place": ms(performance.now() - answered),
  };
}

async function main(): Promise<void> {
  const grounds = [await groundOf("demo island, 3″", demoFolder, [56.56, 56.66, -9.5, -9.3], 12)];
  const coldRows = [await cold("demo island, 3″", demoFolder, (grounds[0] as Ground).places)];
  if (existsSync(realFolder)) {
    const real = await groundOf("real archipelago, 3″", realFolder, [38.35, 38.75, -28.85, -27.75], 30);
    grounds.push(real);
    coldRows.push(await cold(real.name, realFolder, real.places));
  }
  grounds.push(madeUpHills());
  const columns = grounds.map(measure);
  const labels = Object.keys(columns[0] as object).slice(1);
  console.table(
    Object.fromEntries(
      labels.map((label) => [label, Object.fromEntries(columns.map((column) => [column["ground"], column[label]]))]),
    ),
  );
  console.table(Object.fromEntries(coldRows.map(({ ground, ...row }) => [ground, row])));
}

await main();
