import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { crc32 } from "node:zlib";
import { type ByteStore, createTerrain, type TerrainWork, terrainJobs } from "@fieldstop/terrain";
import { describe, expect, it, vi } from "vitest";
import { CachedHorizons } from "../../../packages/terrain/src/skylines/cached-horizons";
import { folderWith, hgtBytes, hillyTile, temporaryFolder } from "../made-tiles";

const ARDVANE = { latitude: 56.6, longitude: -9.4 };
const NEAR = { stepDeg: 5, radiusKm: 12 };
const hills = hillyTile();

class Shelf implements ByteStore {
  readonly entries = new Map<string, Uint8Array>();
  async get(key: string): Promise<Uint8Array | null> {
    return this.entries.get(key) ?? null;
  }
  async set(key: string, bytes: Uint8Array): Promise<void> {
    this.entries.set(key, bytes);
  }
  async delete(key: string): Promise<void> {
    this.entries.delete(key);
  }
}

/** A fresh process over the same tiles, and how often it scanned. */
async function started(folder: string, horizonStore: ByteStore) {
  const scanHorizon = vi.fn(terrainJobs.scanHorizon);
  const work: TerrainWork = { ...terrainJobs, scanHorizon };
  return { terrain: await createTerrain({ sources: [folder], horizonStore, work }), scanHorizon };
}

/** The members of a value by their paths, of a list only the first. */
function membersOf(value: unknown, path: readonly string[] = []): (readonly string[])[] {
  if (typeof value !== "object" || value === null) return [];
  const names = Array.isArray(value) ? Object.keys(value).slice(0, 1) : Object.keys(value);
  return names.flatMap((name) => {
    const member = [...path, name];
    return [member, ...membersOf((value as { [name: string]: unknown })[name], member)];
  });
}

/** The same with another value at the path. */
function replaced(value: object, [name = "", ...rest]: readonly string[], by: unknown): object {
  const copy = structuredClone(value) as { [name: string]: unknown };
  copy[name] = rest.length === 0 ? by : replaced(copy[name] as object, rest, by);
  return copy;
}

describe("finished skylines", () => {
  const folder = folderWith({ "N56W010.hgt": hills });

  it("are found again by the next process, the same to the last bit", async () => {
    const shelf = new Shelf();
    const first = await started(folder, shelf);
    const found = await first.terrain.horizonAt(ARDVANE, NEAR);
    expect(first.scanHorizon).toHaveBeenCalled();
    expect(found?.key).toMatch(/^[0-9a-f]{32}$/);
    expect(shelf.entries.size).toBe(1);
    const second = await started(folder, shelf);
    expect(await second.terrain.horizonAt(ARDVANE, NEAR)).toStrictEqual(found);
    expect(second.scanHorizon).not.toHaveBeenCalled();
  });

  it("have another key for another question, and for other data", async () => {
    const terrain = (await started(folder, new Shelf())).terrain;
    const other = (await started(folderWith({ "N56W010.hgt": hills, "N57W010.hgt": hills }), new Shelf())).terrain;
    const asked = [
      terrain.horizonAt(ARDVANE, NEAR),
      terrain.horizonAt({ ...ARDVANE, latitude: 56.61 }, NEAR),
      terrain.horizonAt({ ...ARDVANE, eyeHeightM: 2 }, NEAR),
      terrain.horizonAt({ ...ARDVANE, elevationM: 600 }, NEAR),
      terrain.horizonAt(ARDVANE, { ...NEAR, stepDeg: 10 }),
      terrain.horizonAt(ARDVANE, { ...NEAR, radiusKm: 11 }),
      other.horizonAt(ARDVANE, NEAR),
    ];
    const keys = (await Promise.all(asked)).map((horizon) => horizon?.key);
    expect(keys).toHaveLength(7);
    expect(new Set(keys).size).toBe(7);
    expect((await terrain.horizonAt({ ...ARDVANE, eyeHeightM: 1.6 }, NEAR))?.key).toBe(keys[0]);
  });

  it.each([
    ["with a bit turned", (entry: Uint8Array, at: number) => entry.map((byte, i) => (i === at ? byte ^ 1 : byte))],
    ["cut short", (entry: Uint8Array, at: number) => entry.subarray(0, at)],
    ["of something else", () => Buffer.from("Moved permanently")],
    ["of nothing", () => new Uint8Array(0)],
  ])("count for nothing when they come back %s, and are found anew", async (_what, damage) => {
    for (const share of [0, 0.3, 0.99]) {
      const shelf = new Shelf();
      const found = await (await started(folder, shelf)).terrain.horizonAt(ARDVANE, NEAR);
      const [[key, entry] = ["", new Uint8Array(0)]] = shelf.entries;
      shelf.entries.set(key, damage(entry, Math.floor(share * entry.length)));
      const { terrain, scanHorizon } = await started(folder, shelf);
      expect(await terrain.horizonAt(ARDVANE, NEAR)).toStrictEqual(found);
      expect(scanHorizon).toHaveBeenCalled();
      expect(shelf.entries.get(key)?.length).toBe(entry.length);
    }
  });

  it("count for nothing when any member of them is of another kind, however good the checksum", async () => {
    const shelf = new Shelf();
    const { terrain } = await started(folder, shelf);
    await terrain.horizonAt(ARDVANE, NEAR);
    const [[name, entry] = ["", new Uint8Array(0)]] = shelf.entries;
    const record = JSON.parse(Buffer.from(entry.subarray(8)).toString()) as object;
    const spoilt = [null, 5, "text", [], {}, { ...record, answer: null }, { ...record, keptAtMs: "now" }];
    const damaged = spoilt.concat(
      membersOf(record).flatMap((path) => [{}, null].map((junk) => replaced(record, path, junk))),
    );
    expect(damaged.length).toBeGreaterThan(30);
    for (const value of damaged) {
      const text = Buffer.from(JSON.stringify(value));
      shelf.entries.set(name, Buffer.concat([Buffer.from(crc32(text).toString(16).padStart(8, "0")), text]));
      const store = new CachedHorizons(shelf, { asked: true, isRemote: true });
      expect(await store.get(name.slice("horizon ".length)), JSON.stringify(value).slice(0, 200)).toBeNull();
      expect(shelf.entries.size).toBe(0);
    }
  });

  it("are not kept, and have no key, where a tile could not be read", async () => {
    const shelf = new Shelf();
    const bad = folderWith({ "N56W010.hgt": hills, "N57W010.hgt": hills.subarray(0, 100) });
    const { terrain } = await started(bad, shelf);
    const atTheEdge = { latitude: 56.95, longitude: -9.5 };
    const horizon = await terrain.horizonAt(atTheEdge, NEAR);
    expect(horizon?.missingTiles).toMatchObject([{ name: "N57W010.hgt", reason: "unreadable" }]);
    expect(horizon).not.toHaveProperty("key");
    expect(shelf.entries.size).toBe(0);
    writeFileSync(join(bad, "N57W010.hgt"), hills);
    expect((await terrain.horizonAt(atTheEdge, NEAR))?.key).toBeDefined();
    expect(shelf.entries.size).toBe(1);
  });

  it("are not kept where a void would be filled from a tile that could not be read", async () => {
    const shelf = new Shelf();
    const holed = hgtBytes(1201, (row, column) =>
      row > 470 && row < 480 && column > 700 && column < 740 ? -32_768 : 50,
    );
    const sources = [folderWith({ "N56W010.hgt": holed }), folderWith({ "N56W010.hgt": hills.subarray(0, 100) })];
    const terrain = await createTerrain({ sources, horizonStore: shelf });
    expect(await terrain.horizonAt(ARDVANE, NEAR)).not.toHaveProperty("key");
    expect(shelf.entries.size).toBe(0);
  });

  it("lie in the cache folder unless another place is named", async () => {
    const cache = { folder: temporaryFolder(), maxMb: 10 };
    const terrain = await createTerrain({ sources: [folder], cache });
    const found = await terrain.horizonAt(ARDVANE, NEAR);
    const again = async () => {
      const scanHorizon = vi.fn(terrainJobs.scanHorizon);
      const next = await createTerrain({ sources: [folder], cache, work: { ...terrainJobs, scanHorizon } });
      expect(await next.horizonAt(ARDVANE, NEAR)).toStrictEqual(found);
      return scanHorizon.mock.calls.length;
    };
    await expect.poll(again, { timeout: 10_000 }).toBe(0);
  });
});
