import { readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { scanHorizon } from "@fieldstop/core/horizon";
import { createTerrain, readHgt, type TerrainHorizon, terrainJobs } from "@fieldstop/terrain";
import { writeArrayBuffer } from "geotiff";
import { describe, expect, it, vi } from "vitest";
import { DiskStore } from "../../../packages/terrain/src/tiles/disk-store";
import { PreparedBlocks } from "../../../packages/terrain/src/tiles/prepared-blocks";
import { openPrepared, preparedBytes, prepareTile } from "../../../packages/terrain/src/tiles/prepared-tile";
import { sharedGrid } from "../../../packages/terrain/src/tiles/shared-grid";
import { folderWith, hgtBytes, temporaryFolder } from "../made-tiles";

const PLACE = { latitude: 56.51, longitude: -9.52, eyeHeightM: 2 };
const LOOK = { stepDeg: 1, radiusKm: 60 };
const hilly = (row: number, column: number) =>
  Math.round(
    600 + 400 * Math.sin(row / 700) * Math.cos(column / 900) + 40 * Math.sin(row / 37) + 9 * Math.sin(column / 7),
  );
const hills = hgtBytes(3601, hilly);
const holed = hgtBytes(3601, (row, column) =>
  row > 1500 && row < 1700 && column > 1800 ? -32_768 : hilly(row, column),
);
/** Level ground of no whole metres that fills the hole. */
const fractions = new Uint8Array(
  writeArrayBuffer(new Float32Array(1201 * 1201).fill(123.75), {
    width: 1201,
    height: 1201,
    ModelPixelScale: [1 / 1200, 1 / 1200, 0],
    ModelTiepoint: [0, 0, 0, -10, 57, 0],
    GTModelTypeGeoKey: 2,
    GeographicTypeGeoKey: 4326,
    GTRasterTypeGeoKey: 2,
  }),
);

/** Contents of a cache folder large enough to be prepared tiles. */
const preparedIn = (folder: string) =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .map((entry) => join(entry.parentPath, entry.name))
    .filter((path) => path.includes("content-") && statSync(path).size > 4_000_000);

/** A terrain as a fresh process has it, skylines forgotten; and how often it read a whole tile. */
async function started(sources: readonly string[], folder: string) {
  const readTile = vi.fn(terrainJobs.readTile);
  const none = { get: async () => null, set: async () => {}, delete: async () => {} };
  const work = { ...terrainJobs, readTile };
  const terrain = await createTerrain({ sources, cache: { folder, maxMb: 500 }, horizonStore: none, work });
  return { terrain, readTile };
}

describe("tiles prepared to be read in parts", () => {
  const cases = {
    "1″ heights": [folderWith({ "N56W010.hgt": hills, "N56W009.hgt": hills })],
    "heights of no whole metres": [folderWith({ "strand.tif": fractions })],
    "voids that another source fills": [folderWith({ "N56W010.hgt": holed }), folderWith({ "strand.tif": fractions })],
    "voids that nobody fills": [folderWith({ "N56W010.hgt": holed })],
  };

  it.each(Object.entries(cases))("give the same answer to the last bit: %s", async (_what, sources) => {
    const expected = await (await createTerrain({ sources })).horizonAt(PLACE, LOOK);
    expect(expected?.profile.altitudesDeg).toHaveLength(360);
    const folder = temporaryFolder();
    const first = await started(sources, folder);
    expect(await first.terrain.horizonAt(PLACE, LOOK)).toStrictEqual(expected);
    expect(preparedIn(folder).length).toBeGreaterThan(0);
    const second = await started(sources, folder);
    expect(await second.terrain.horizonAt(PLACE, LOOK)).toStrictEqual(expected);
    expect(second.readTile).not.toHaveBeenCalled();
    const ground = await second.terrain.groundElevationM(56.55, -9.4);
    expect(ground).toBe(await (await createTerrain({ sources })).groundElevationM(56.55, -9.4));
  });

  const sources = cases["1″ heights"];
  let expected: TerrainHorizon | null = null;
  const once = async () => (expected ??= await (await createTerrain({ sources })).horizonAt(PLACE, LOOK));

  it.each([
    ["with a bit turned at its beginning", 0.000_01],
    ["with a bit turned in the coarse heights", 0.002],
    ["with a bit turned in the heights", 0.47],
    ["with a bit turned at its end", 0.999_999_9],
  ])("are made again where one comes back %s", async (_what, share) => {
    const folder = temporaryFolder();
    await (await started(sources, folder)).terrain.horizonAt(PLACE, LOOK);
    const good = new Map(preparedIn(folder).map((path) => [path, readFileSync(path)]));
    expect(good.size).toBeGreaterThan(0);
    for (const [path, bytes] of good) {
      const bad = Buffer.from(bytes);
      const at = Math.floor(share * bad.length);
      // every block of the row, so that one is needed
      for (let i = at; i < Math.min(bad.length, at + (share === 0.47 ? 1_500_000 : 1)); i++)
        bad[i] = (bad[i] as number) ^ 1;
      writeFileSync(path, bad);
    }
    expect(await (await started(sources, folder)).terrain.horizonAt(PLACE, LOOK)).toStrictEqual(await once());
    for (const [path, bytes] of good) expect(readFileSync(path).equals(bytes)).toBe(true);
  });

  it.each([
    ["cut short", (path: string) => writeFileSync(path, readFileSync(path).subarray(0, 900_000))],
    ["gone", (path: string) => rmSync(path)],
  ])("are made again where one is %s while the service runs", async (_what, damage) => {
    const folder = temporaryFolder();
    const { terrain, readTile } = await started(sources, folder);
    const near = { latitude: 56.02, longitude: -9.98, eyeHeightM: 2 };
    await terrain.horizonAt(near, { stepDeg: 10, radiusKm: 3 });
    expect(readTile).toHaveBeenCalledTimes(1);
    for (const path of preparedIn(folder)) damage(path);
    expect(await terrain.horizonAt(PLACE, LOOK)).toStrictEqual(await once());
  });

  it("are done without where the cache cannot hold them or cannot be written to", async () => {
    const blocked = join(temporaryFolder(), "file");
    writeFileSync(blocked, "");
    const warn = vi.fn();
    for (const cache of [
      { folder: temporaryFolder(), maxMb: 5 },
      { folder: join(blocked, "cache"), maxMb: 500 },
    ]) {
      const terrain = await createTerrain({ sources, cache, warn });
      expect(await terrain.horizonAt(PLACE, LOOK)).toStrictEqual(await once());
    }
    expect(warn).toHaveBeenCalledTimes(1);
  });

  it("are read no further than a skyline needs", async () => {
    const folder = temporaryFolder();
    const whole = await readHgt("N56W010.hgt", hills);
    await prepareTile({ grid: sharedGrid(whole, whole.pyramid), folder, key: "hills" });
    const path = (await new DiskStore({ folder, maxMb: 100 }).fileOf("hills")) ?? "";
    expect(statSync(path).size).toBe(preparedBytes(whole));
    const grid = await openPrepared("hills", path);
    if (!(grid?.blocks instanceof PreparedBlocks)) throw new Error("a prepared tile is read in blocks");
    const { loaded } = grid.blocks.file;
    expect(loaded).toHaveLength(57 * 57);
    const options = { stepDeg: 0.5, radiusM: 60_000 };
    expect(scanHorizon([grid], PLACE, options)).toStrictEqual(scanHorizon([whole], PLACE, options));
    const read = loaded.reduce((sum, one) => sum + one, 0);
    expect(read).toBeGreaterThan(5);
    expect(read).toBeLessThan((57 * 57) / 4);
  });
});
