import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { ElevationGrid, HorizonScanner, scanHorizon } from "@fieldstop/core/horizon";
import { readHgt } from "@fieldstop/terrain";
import geodesic from "geographiclib-geodesic";

/**
 * The horizon scan against a plain marcher at a quarter of a cell, on the demo island's nine 3″ tiles put together, alternating in
 * one run. The marcher has the same geodesics, curvature and bilinear ground, and samples every 23 m or so out to 150 km.
 */
const EFFECTIVE_RADIUS_M = 6_371_008.8 / (1 - 0.13);
const RADIUS_M = 150_000;
const EYE_M = 2;
const ROUNDS = 15;

async function islandGrid(): Promise<ElevationGrid> {
  const folder = join(import.meta.dirname, "../demo/elevation");
  const names = readdirSync(folder).filter((name) => name.endsWith(".hgt.zip"));
  const tiles = await Promise.all(names.map((name) => readHgt(name, readFileSync(join(folder, name)))));
  const north = Math.max(...tiles.map((tile) => tile.northDeg));
  const west = Math.min(...tiles.map((tile) => tile.westDeg));
  const side = 3601;
  const samples = new Int16Array(side * side);
  for (const tile of tiles) {
    const top = Math.round((north - tile.northDeg) * 1200);
    const left = Math.round((tile.westDeg - west) * 1200);
    for (let row = 0; row < tile.rows; row++) {
      samples.set(tile.samples.subarray(row * 1201, (row + 1) * 1201), (top + row) * side + left);
    }
  }
  const step = 1 / 1200;
  return new ElevationGrid({
    samples,
    rows: side,
    columns: side,
    northDeg: north,
    westDeg: west,
    latStepDeg: step,
    lonStepDeg: step,
    voidValue: -32768,
  });
}

/** Apparent altitudes by marching each ray; positions by interpolation between exact geodesic points a kilometre apart. */
function march(grid: ElevationGrid, latitude: number, longitude: number, azimuthsDeg: readonly number[]): number[] {
  const { samples, columns } = grid;
  const column = (lon: number) => (lon - grid.westDeg) / grid.lonStepDeg;
  const row = (lat: number) => (grid.northDeg - lat) / grid.latStepDeg;
  const eyeM = (grid.elevationAt(column(longitude), row(latitude)) as number) + EYE_M;
  const pieceM = 1000;
  const cellM = 92.66 * Math.cos((latitude * Math.PI) / 180);
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

const quantile = (sorted: readonly number[], q: number) => sorted[Math.floor(q * (sorted.length - 1))] as number;

async function main(): Promise<void> {
  const grid = await islandGrid();
  const startedPyramid = performance.now();
  const { maxima } = grid.pyramid;
  const pyramidMs = performance.now() - startedPyramid;
  const azimuthsDeg = Array.from({ length: 720 }, (_, i) => i / 2);
  const places = Array.from({ length: ROUNDS }, (_, i) => ({
    latitude: 56.58 + i * 0.004,
    longitude: -9.5 + i * 0.013,
  }));
  const scanMs: number[] = [];
  const marchMs: number[] = [];
  let highest = 0;
  for (const [i, place] of [...places.slice(0, 3), ...places].entries()) {
    const a = performance.now();
    const scan = scanHorizon([grid], { ...place, eyeHeightM: EYE_M }, { azimuthsDeg, radiusM: RADIUS_M });
    const b = performance.now();
    const marched = march(grid, place.latitude, place.longitude, azimuthsDeg);
    const c = performance.now();
    if (i < 3) continue; // until compiled
    scanMs.push(b - a);
    marchMs.push(c - b);
    scan.altitudesDeg.forEach((altitude, k) => {
      highest = Math.max(highest, altitude - (marched[k] as number));
    });
  }
  const scanner = new HorizonScanner([grid], { ...(places[0] as (typeof places)[0]), eyeHeightM: EYE_M });
  const single: number[] = [];
  for (let i = 0; i < 3000; i++) {
    const a = performance.now();
    scanner.at((i * 137.5) % 360);
    single.push((performance.now() - a) * 1000);
  }
  for (const times of [scanMs, marchMs, single]) times.sort((a, b) => a - b);
  const scanned = quantile(scanMs, 0.5);
  const marched = quantile(marchMs, 0.5);
  console.table({
    "scan, 720 azimuths, 150 km [ms]": { p50: scanned.toFixed(2), p90: quantile(scanMs, 0.9).toFixed(2) },
    "march at 1/4 cell [ms]": { p50: marched.toFixed(2), p90: quantile(marchMs, 0.9).toFixed(2) },
    "one azimuth, viewpoint kept [µs]": {
      p50: quantile(single, 0.5).toFixed(1),
      p90: quantile(single, 0.9).toFixed(1),
    },
    "pyramid of 3601² [ms]": { p50: pyramidMs.toFixed(1) },
    "pyramid over grid [%]": { p50: ((100 * maxima.byteLength) / grid.samples.byteLength).toFixed(1) },
  });
  console.log(
    `ratio to the marcher: ${(marched / scanned).toFixed(1)}; the marcher misses up to ${highest.toFixed(3)}°`,
  );
}

await main();
