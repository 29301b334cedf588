import { chmodSync, existsSync, readdirSync, readFileSync, utimesSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { Writable } from "node:stream";
import { createTerrain } from "@fieldstop/terrain";
import cacache from "cacache";
import { describe, expect, it, vi } from "vitest";
import { DiskStore } from "../../../packages/terrain/src/tiles/disk-store";
import { hgtBytes, temporaryFolder } from "../made-tiles";

const bytes = (length: number, value: number) => new Uint8Array(length).fill(value);
const entriesIn = (folder: string) =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.parentPath.includes("content-"))
    .map((entry) => join(entry.parentPath, entry.name));

describe("DiskStore", () => {
  it("gives back what was put, in this process and the next", async () => {
    const folder = join(temporaryFolder(), "not/made/yet");
    const cache = new DiskStore({ folder, maxMb: 1 });
    expect(await cache.get("a")).toBeNull();
    await Promise.all([cache.set("a", bytes(1000, 1)), cache.set("b", bytes(5, 3)), cache.set("a", bytes(2000, 2))]);
    expect(await cache.get("a")).toEqual(bytes(2000, 2));
    expect(await new DiskStore({ folder, maxMb: 1 }).get("b")).toEqual(bytes(5, 3));
    expect(await cache.get("c")).toBeNull();
    expect(entriesIn(folder)).toHaveLength(2);
  });

  it.each([
    ["cut short", (entry: Buffer) => entry.subarray(0, 500)],
    [
      "with a bit turned",
      (entry: Buffer) => Buffer.concat([entry.subarray(0, 999), Buffer.of((entry[999] as number) ^ 1)]),
    ],
    ["emptied", () => Buffer.alloc(0)],
  ])("has nothing where an entry was %s, and takes a new one", async (_what, damage) => {
    const folder = temporaryFolder();
    const cache = new DiskStore({ folder, maxMb: 1 });
    await cache.set("a", bytes(1000, 1));
    const [entry = ""] = entriesIn(folder);
    writeFileSync(entry, damage(readFileSync(entry)));
    expect(await cache.get("a")).toBeNull();
    expect(entriesIn(folder)).toEqual([]);
    await cache.set("a", bytes(1000, 1));
    expect(await cache.get("a")).toEqual(bytes(1000, 1));
  });

  it("clears out the longest unused when it is full, and keeps nothing larger than itself", async () => {
    const folder = temporaryFolder();
    const cache = new DiskStore({ folder, maxMb: 1 });
    for (let i = 0; i < 9; i++) {
      await cache.set(`tile ${i}`, bytes(100_000, i));
      for (const entry of entriesIn(folder)) utimesSync(entry, 1e9 + i, 1e9 + i);
    }
    // read again: no longer the longest unused
    expect(await cache.get("tile 0")).not.toBeNull();
    const others = new DiskStore({ folder, maxMb: 1 });
    await others.set("tile 9", bytes(100_000, 9));
    await others.set("tile 10", bytes(100_000, 10));
    const total = entriesIn(folder).reduce((sum, entry) => sum + readFileSync(entry).length, 0);
    expect(total).toBeLessThanOrEqual(1_000_000);
    expect(entriesIn(folder).length).toBeGreaterThanOrEqual(7);
    for (const kept of ["tile 0", "tile 9", "tile 10"]) expect(await cache.get(kept)).not.toBeNull();
    await others.set("too large", bytes(1_000_001, 1));
    expect(await cache.get("too large")).toBeNull();
  });

  it("does without a folder that cannot be made, and says so once", async () => {
    const blocked = join(temporaryFolder(), "file");
    writeFileSync(blocked, "");
    const warn = vi.fn();
    const cache = new DiskStore({ folder: join(blocked, "cache"), maxMb: 1, warn });
    await cache.set("a", bytes(10, 1));
    await cache.set("b", bytes(10, 1));
    expect(await cache.get("a")).toBeNull();
    expect(warn).toHaveBeenCalledTimes(1);
    expect(warn.mock.calls[0]?.[0]).toMatch(/FIELDSTOP_CACHE_DIR.*ENOTDIR/);
  });

  it("goes on where the disk is full, and says so once", async () => {
    const folder = temporaryFolder();
    const warn = vi.fn();
    const cache = new DiskStore({ folder, maxMb: 1, warn });
    await cache.set("a", bytes(10, 1));
    const full = Object.assign(new Error("ENOSPC: no space left on device, write"), { code: "ENOSPC" });
    const put = vi.spyOn(cacache.put, "stream").mockImplementation(() => {
      const stream = new Writable({ write: (_chunk, _encoding, done) => done(full) });
      const failed = new Promise((_resolve, reject) => stream.on("error", reject));
      return Object.assign(stream, { promise: () => failed }) as unknown as ReturnType<typeof cacache.put.stream>;
    });
    try {
      await cache.set("b", bytes(10, 1));
      await cache.set("c", bytes(10, 1));
      const flat = hgtBytes(1201, () => 10);
      const tiles = temporaryFolder();
      writeFileSync(join(tiles, "N56W010.hgt"), flat);
      const terrain = await createTerrain({ sources: [tiles], cache: { folder, maxMb: 1 }, warn: () => {} });
      expect(await terrain.horizonAt({ latitude: 56.5, longitude: -9.5 }, { stepDeg: 5, radiusKm: 5 })).not.toBeNull();
      expect(put).toHaveBeenCalled();
    } finally {
      put.mockRestore();
    }
    expect(warn).toHaveBeenCalledTimes(1);
    expect(warn.mock.calls[0]?.[0]).toMatch(/FIELDSTOP_CACHE_DIR.*ENOSPC/);
    expect(await cache.get("a")).toEqual(bytes(10, 1));
    expect(await cache.get("b")).toBeNull();
    await cache.set("b", bytes(10, 2));
    expect(await cache.get("b")).toEqual(bytes(10, 2));
  });

  it.skipIf(!existsSync("/proc/self"))("does without a folder in one that is there but takes none", async () => {
    const warn = vi.fn();
    const cache = new DiskStore({ folder: "/proc/ardvane/tiles", maxMb: 1, warn });
    await cache.set("a", bytes(10, 1));
    expect(await cache.get("a")).toBeNull();
    expect(warn).toHaveBeenCalledExactlyOnceWith(expect.stringContaining("cannot be written to (ENOENT)"));
  });

  it("makes its folder and those above it", async () => {
    const folder = join(temporaryFolder(), "of", "ardvane");
    await new DiskStore({ folder, maxMb: 1 }).set("a", bytes(10, 1));
    expect(await new DiskStore({ folder, maxMb: 1 }).get("a")).toEqual(bytes(10, 1));
  });

  // whoever runs as root may write anywhere
  it.skipIf(process.getuid?.() === 0)("reads on in a folder that may not be written to", async () => {
    const folder = temporaryFolder();
    await new DiskStore({ folder, maxMb: 1 }).set("a", bytes(10, 1));
    const warn = vi.fn();
    const cache = new DiskStore({ folder, maxMb: 1, warn });
    chmodSync(folder, 0o555);
    await cache.set("b", bytes(10, 1));
    expect(await cache.get("a")).toEqual(bytes(10, 1));
    expect(warn).toHaveBeenCalledTimes(1);
    chmodSync(folder, 0o755);
  });
});
