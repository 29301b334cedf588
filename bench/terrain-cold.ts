import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import { WorkerPool } from "@fieldstop/api/workers/worker-pool";
import { createTerrain } from "@fieldstop/terrain";
import { ServiceProcess } from "../tests/load/service";
import { HILL_WAVES } from "./terrain/grounds";

/**
 * What a cold viewpoint costs over made-up 1″ tiles: bytes read, milliseconds, and the most memory that the process ever took. Each row
 * is a process of its own: without a cache folder (tiles are unpacked whole), with an empty one (tiles are prepared on the way), and
 * with prepared tiles; over 3 × 3 tiles, over the 28 that a radius of 150 km meets at 60° N. Bytes are those that the process asked
 * the system for, whether the disk or the system's own cache gave them. Then the most memory that the built service ever took, over
 * the 3 × 3 tiles: when it had answered the first place, and all three.
 */
interface Ground {
  readonly name: string;
  readonly south: number;
  readonly west: number;
  readonly rows: number;
  readonly columns: number;
  readonly places: readonly { readonly latitude: number; readonly longitude: number }[];
}

const GROUNDS: readonly Ground[] = [
  {
    name: "3 × 3 tiles, 46° N",
    ...{ south: 45, west: 6, rows: 3, columns: 3 },
    places: [
      { latitude: 46.503, longitude: 7.497 },
      { latitude: 46.61, longitude: 7.31 },
      { latitude: 46.42, longitude: 7.7 },
    ],
  },
  {
    name: "28 tiles, 60° N",
    ...{ south: 58, west: 5, rows: 4, columns: 7 },
    places: [
      { latitude: 60.003, longitude: 8.497 },
      { latitude: 60.11, longitude: 8.31 },
      { latitude: 59.92, longitude: 8.7 },
    ],
  },
];
const WAYS = ["no cache folder", "tiles prepared on the way", "tiles prepared before"] as const;
const SIDE = 3601;

/** Hills from the size of a massif down to that of a boulder field. */
function hgtTile(south: number, west: number): Buffer {
  const bytes = Buffer.alloc(SIDE * SIDE * 2);
  const across = HILL_WAVES.map(([height, rate]) =>
    Float64Array.from({ length: SIDE }, (_, i) => height * Math.sin((i + west * 3600) * rate)),
  );
  for (let row = 0; row < SIDE; row++) {
    const along = HILL_WAVES.map(([, , rate]) => Math.cos((row - south * 3600) * rate));
    for (let i = 0; i < SIDE; i++) {
      let height = 500;
      for (let w = 0; w < HILL_WAVES.length; w++)
        height += ((across[w] as Float64Array)[i] as number) * (along[w] as number);
      bytes.writeInt16BE(Math.max(0, Math.round(height)), 2 * (row * SIDE + i));
    }
  }
  return bytes;
}

function tilesOf({ south, west, rows, columns }: Ground): string {
  const folder = mkdtempSync(join(tmpdir(), "fieldstop-bench-"));
  for (let latitude = south; latitude < south + rows; latitude++) {
    for (let longitude = west; longitude < west + columns; longitude++) {
      const name = `N${latitude}E${String(longitude).padStart(3, "0")}.hgt.gz`;
      writeFileSync(join(folder, name), gzipSync(hgtTile(latitude, longitude), { level: 1 }));
    }
  }
  return folder;
}

/** Bytes that this process has read so far, from files and from what the system keeps of them. */
const bytesRead = (): number => Number(/^rchar: (\d+)$/m.exec(readFileSync("/proc/self/io", "utf8"))?.[1]);
/** The most memory that this process ever took, and what it takes now [MB]. */
const memoryMb = (field: "VmHWM" | "VmRSS", process: number | "self" = "self"): number =>
  Number(new RegExp(`^${field}:\\s+(\\d+) kB$`, "m").exec(readFileSync(`/proc/${process}/status`, "utf8"))?.[1]) / 1000;

/** One process: opens the tiles, answers each place in turn, and tells what that cost. */
async function measure(ground: Ground, tiles: string, cacheFolder: string | undefined): Promise<void> {
  const pool = new WorkerPool({ threads: 1 });
  // the thread's own start is no part of it
  await pool.run("alignmentsJson", {
    request: {
      place: { latitude: 0, longitude: 0 },
      timeZone: "UTC",
      body: "sun",
      target: { kind: "direction", azimuthDeg: 90, altitudeDeg: 3 },
      from: "2027-01-01",
      to: "2027-01-02",
    },
    assumptions: [],
  });
  const atStart = memoryMb("VmRSS");
  const horizonStore = { get: async () => null, set: async () => {}, delete: async () => {} };
  const cache = cacheFolder === undefined ? {} : { cache: { folder: cacheFolder, maxMb: 4000 } };
  const terrain = await createTerrain({ sources: [tiles], ...cache, horizonStore, work: pool.terrainWork });
  const answers: Record<string, string> = {};
  const names = ["first place", "second", "third"];
  for (const [i, place] of ground.places.entries()) {
    const before = bytesRead();
    const start = performance.now();
    const horizon = await terrain.horizonAt(place, { stepDeg: 0.25 });
    const ms = performance.now() - start;
    if (horizon?.missingTiles.some(({ reason }) => reason === "unreadable") ?? true) throw new Error("a tile is bad");
    answers[`${names[i]} [ms]`] = ms.toFixed(0);
    answers[`${names[i]} read [MB]`] = ((bytesRead() - before) / 1e6).toFixed(2);
  }
  answers["memory at start [MB]"] = atStart.toFixed(0);
  answers["at the end"] = memoryMb("VmRSS").toFixed(0);
  answers["at most"] = memoryMb("VmHWM").toFixed(0);
  await pool.close();
  console.log(JSON.stringify(answers));
}

function inItsOwnProcess(ground: number, tiles: string, cache: string | undefined): Record<string, string> {
  const tsx = fileURLToPath(import.meta.resolve("tsx/cli"));
  const script = fileURLToPath(import.meta.url);
  const args = [
    tsx,
    "--conditions=fieldstop-source",
    script,
    String(ground),
    tiles,
    ...(cache === undefined ? [] : [cache]),
  ];
  const { stdout, stderr, status } = spawnSync(process.execPath, args, { encoding: "utf8" });
  if (status !== 0) throw new Error(stderr);
  return JSON.parse(stdout) as Record<string, string>;
}

/** Under this the whole service is to stay, first contact included [MB]. */
const SERVICE_MARK_MB = 400;

/** What the built service takes, its own start included. */
async function servedMemory({ places }: Ground, tiles: string, cache: string | undefined) {
  const kept: Record<string, string> =
    cache === undefined ? { FIELDSTOP_CACHE_MB: "0" } : { FIELDSTOP_CACHE_DIR: cache, FIELDSTOP_CACHE_MB: "4000" };
  const service = await ServiceProcess.start({ FIELDSTOP_ELEVATION: tiles, ...kept });
  const pid = service.child.pid as number;
  try {
    const most = [memoryMb("VmHWM", pid)];
    for (const { latitude, longitude } of places) {
      const answer = await fetch(`${service.baseUrl}/v1/horizon?latitude=${latitude}&longitude=${longitude}`);
      if (!answer.ok) throw new Error(`the service answered ${answer.status}`);
      await answer.arrayBuffer();
      most.push(memoryMb("VmHWM", pid));
    }
    const [atStart = 0, first = 0] = most;
    const all = most.at(-1) ?? 0;
    const mark = (mb: number) => `${mb.toFixed(0)}${mb < SERVICE_MARK_MB ? "" : ` (over ${SERVICE_MARK_MB})`}`;
    return { "at start [MB]": mark(atStart), "after the first place": mark(first), "after all three": mark(all) };
  } finally {
    await service.stop();
  }
}

const [which, tilesFolder, cacheFolder] = process.argv.slice(2);
if (which !== undefined && tilesFolder !== undefined) {
  await measure(GROUNDS[Number(which)] as Ground, tilesFolder, cacheFolder);
} else {
  const built = spawnSync("npm", ["run", "build", "--workspace=apps/api"], { encoding: "utf8" });
  if (built.status !== 0) throw new Error(built.stderr);
  for (const [index, ground] of GROUNDS.entries()) {
    const tiles = tilesOf(ground);
    const cache = mkdtempSync(join(tmpdir(), "fieldstop-bench-"));
    const serviceCache = mkdtempSync(join(tmpdir(), "fieldstop-bench-"));
    try {
      const rows = WAYS.map((way, i) => [way, inItsOwnProcess(index, tiles, i === 0 ? undefined : cache)] as const);
      console.log(ground.name);
      const labels = Object.keys(rows[0]?.[1] ?? {});
      console.table(
        Object.fromEntries(
          labels.map((label) => [label, Object.fromEntries(rows.map(([way, row]) => [way, row[label]]))]),
        ),
      );
      if (index > 0) continue;
      const taken: Record<string, Awaited<ReturnType<typeof servedMemory>>> = {};
      for (const [i, way] of WAYS.entries()) {
        taken[way] = await servedMemory(ground, tiles, i === 0 ? undefined : serviceCache);
      }
      console.log(`the built service over ${ground.name}: the most memory it ever took`);
      console.table(taken);
    } finally {
      for (const folder of [tiles, cache, serviceCache]) rmSync(folder, { recursive: true });
    }
  }
}
