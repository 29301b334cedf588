import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { availableParallelism, tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as delay } from "node:timers/promises";
import { gzipSync } from "node:zlib";
import { WorkerPool } from "@fieldstop/api/workers/worker-pool";
import { findAlignments } from "@fieldstop/core";
import { createTerrain } from "@fieldstop/terrain";
import { encode } from "fast-png";
import { writeArrayBuffer } from "geotiff";
import { median } from "../tests/median";

/**
 * How long the event loop is held up at worst while skylines are scanned cold and alignments over 20 years are searched: with the work
 * in threads and without, in turn, in one run. On the demo island's 3″ tiles, on four made-up tiles at 1″, packed,
 * alone and with the demo's ground in their voids, on a made-up GeoTIFF in a projection, and on made-up map tiles.
 */
const ROUNDS = 4;
const THREADS = Math.max(1, availableParallelism() - 1);
const demo = join(import.meta.dirname, "../demo/elevation");
const search: Parameters<typeof findAlignments>[0] = {
  place: { latitude: 56.6, longitude: -9.4 },
  timeZone: "UTC",
  body: "moon",
  target: { kind: "direction", azimuthDeg: 286, altitudeDeg: 3 },
  from: "2027-01-01",
  to: "2046-12-31",
};

/** Hills in 1″ tiles round 56° N, 9° W, a hole in the corner of each. */
function fineTiles(): string {
  const folder = mkdtempSync(join(tmpdir(), "fieldstop-bench-"));
  const side = 3601;
  for (const [north, west] of [
    [55, 9],
    [55, 10],
    [56, 9],
    [56, 10],
  ] as const) {
    const bytes = Buffer.alloc(side * side * 2);
    for (let row = 0; row < side; row++) {
      const along = 400 * Math.cos(north + row / 700) + 60 * Math.sin(row / 37);
      for (let i = 0; i < side; i++) {
        const height = 600 + along * Math.sin(west + i / 900) + 15 * Math.sin(i / 11);
        const hole = row < 300 && i > 3300;
        bytes.writeInt16BE(hole ? -32_768 : Math.round(height), 2 * (row * side + i));
      }
    }
    writeFileSync(join(folder, `N${north}W0${String(west).padStart(2, "0")}.hgt.gz`), gzipSync(bytes, { level: 1 }));
  }
  return folder;
}

/** The longest that a timer of a millisecond is late while something runs [ms], and how long that takes. */
async function heldUp(run: () => Promise<unknown>): Promise<{ worstMs: number; wallMs: number }> {
  let runs = true;
  const start = performance.now();
  let before = start;
  const done = run().finally(() => {
    runs = false;
  });
  let worstMs = 0;
  while (runs) {
    await delay(1);
    const now = performance.now();
    worstMs = Math.max(worstMs, now - before - 1);
    before = now;
  }
  await done;
  return { worstMs, wallMs: performance.now() - start };
}

const fine = fineTiles();
const projected = projectedFile();
const coded = mapTiles();
const pool = new WorkerPool({ threads: THREADS });

/**
 * Hills of no whole metres in a projection, 30 m from sample to sample, 60 km by 60; all in one strip, which is the worst case: a strip
 * is decoded in one go, by whichever thread decodes.
 */
function projectedFile(): string {
  const folder = mkdtempSync(join(tmpdir(), "fieldstop-bench-"));
  const side = 2000;
  const samples = Float32Array.from(
    { length: side * side },
    (_, i) => 600.5 + 400 * Math.sin((i % side) / 150) * Math.cos(i / side / 130),
  );
  const file = writeArrayBuffer(samples, {
    width: side,
    height: side,
    ModelPixelScale: [30, 30, 0],
    ModelTiepoint: [0, 0, 0, 470_000, 6_240_000, 0],
    GTModelTypeGeoKey: 1,
    ProjectedCSTypeGeoKey: 32_629,
    GTRasterTypeGeoKey: 1,
  });
  writeFileSync(join(folder, "hills.tif"), new Uint8Array(file));
  return folder;
}

/** Hills in terrarium coding at zoom 10 over 55 to 57° N, 10 to 8° W: 133 tiles of 256 × 256, 84 m from sample to sample. */
function mapTiles(): string {
  const folder = mkdtempSync(join(tmpdir(), "fieldstop-bench-"));
  for (let x = 483; x <= 489; x++) {
    mkdirSync(join(folder, "10", String(x)), { recursive: true });
    for (let y = 309; y <= 327; y++) {
      const data = new Uint8Array(256 * 256 * 3);
      for (let i = 0; i < 256 * 256; i++) {
        const [column, row] = [x * 256 + (i % 256), y * 256 + Math.floor(i / 256)];
        // Terrain Tiles, terrarium coding: red × 256 + green + blue / 256 − 32 768
        const height = 32_768 + 600 + 400 * Math.sin(column / 60) * Math.cos(row / 50);
        data.set([height >> 8, height & 255, (height % 1) * 256], 3 * i);
      }
      writeFileSync(join(folder, "10", String(x), `${y}.png`), encode({ width: 256, height: 256, channels: 3, data }));
    }
  }
  return folder;
}

async function cold(folders: readonly string[], inThreads: boolean): Promise<() => Promise<unknown>> {
  const terrain = await createTerrain({ sources: folders, ...(inThreads && { work: pool.terrainWork }) });
  return () => terrain.horizonAt({ latitude: 56.02, longitude: -9.02 }, { stepDeg: 0.1 });
}

const cases = {
  nothing: async () => () => delay(150),
  "cold skyline, 3″": (inThreads: boolean) => cold([demo], inThreads),
  "cold skyline, 1″": (inThreads: boolean) => cold([fine], inThreads),
  "cold, 1″, voids filled": (inThreads: boolean) => cold([fine, demo], inThreads),
  "cold, UTM GeoTIFF, 30 m": (inThreads: boolean) => cold([projected], inThreads),
  "cold, map tiles": (inThreads: boolean) => cold([coded], inThreads),
  "alignments, 20 years": async (inThreads: boolean) => async () =>
    inThreads ? pool.run("alignmentsJson", { request: search, assumptions: [] }) : findAlignments(search),
};

try {
  // threads started and code warm on both sides
  for (const inThreads of [true, false]) for (const make of Object.values(cases)) await (await make(inThreads))();
  const rows: Record<string, Record<string, string>> = {};
  for (const [name, make] of Object.entries(cases)) {
    const worst = { threads: [] as number[], here: [] as number[] };
    const wall = { threads: [] as number[], here: [] as number[] };
    for (let i = 0; i < ROUNDS; i++) {
      for (const where of ["threads", "here"] as const) {
        const { worstMs, wallMs } = await heldUp(await make(where === "threads"));
        worst[where].push(worstMs);
        wall[where].push(wallMs);
      }
    }
    rows[name] = {
      "held up in threads, median [ms]": median(worst.threads).toFixed(1),
      worst: Math.max(...worst.threads).toFixed(1),
      "held up without, median": median(worst.here).toFixed(1),
      "worst ": Math.max(...worst.here).toFixed(1),
      "takes in threads": median(wall.threads).toFixed(0),
      "takes without": median(wall.here).toFixed(0),
    };
  }
  console.log(`${THREADS} worker thread${THREADS === 1 ? "" : "s"}, ${ROUNDS} rounds`);
  console.table(rows);
} finally {
  await pool.close();
  for (const folder of [fine, projected, coded]) rmSync(folder, { recursive: true });
}
