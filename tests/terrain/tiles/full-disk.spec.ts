import fs, { readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import { createTerrain } from "@fieldstop/terrain";
import { afterEach, expect, it, vi } from "vitest";
import { folderWith, hgtBytes, temporaryFolder } from "../made-tiles";

const hills = hgtBytes(3601, (row, column) => Math.round(600 + 400 * Math.sin(row / 700) * Math.cos(column / 900)));
const tiles = folderWith({ "N56W010.hgt": hills });
const PLACE = { latitude: 56.51, longitude: -9.52 };
const LOOK = { stepDeg: 5, radiusKm: 20 };

afterEach(() => vi.restoreAllMocks());

/** Has every write fail from so many bytes on, as on a disk that fills up; how many failed. */
function fillUpAfter(room: number): () => number {
  let left = room;
  let failed = 0;
  const full = () => Object.assign(new Error("ENOSPC: no space left on device, write"), { code: "ENOSPC" });
  const bounded = (write: (...args: never[]) => unknown, sizeOf: (data: never) => number) =>
    ((...args: never[]) => {
      left -= sizeOf(args[1] as never);
      if (left >= 0) return write(...args);
      failed++;
      const done = args.at(-1) as unknown as (error: Error) => void;
      setImmediate(() => done(full()));
      return undefined;
    }) as never;
  const { write, writev } = fs;
  vi.spyOn(fs, "write").mockImplementation(bounded(write.bind(fs) as never, (data: Buffer) => data.length));
  const sum = (data: readonly Buffer[]) => data.reduce((bytes, each) => bytes + each.length, 0);
  vi.spyOn(fs, "writev").mockImplementation(bounded(writev.bind(fs) as never, sum as never));
  return () => failed;
}

const started = async (folder: string, warn = vi.fn()) => ({
  terrain: await createTerrain({ sources: [tiles], cache: { folder, maxMb: 500 }, warn }),
  warn,
});

it.each([
  ["at once", 0],
  ["in the middle of a prepared tile", 9_000_000],
])(
  "a disk that fills up %s changes no answer, is told of once, and leaves nothing half written",
  async (_when, room) => {
    const expected = await (await createTerrain({ sources: [tiles] })).horizonAt(PLACE, LOOK);
    const folder = temporaryFolder();
    const failed = fillUpAfter(room);
    const { terrain, warn } = await started(folder);
    expect(await terrain.horizonAt(PLACE, LOOK)).toEqual(expected);
    expect(await terrain.horizonAt({ ...PLACE, latitude: 56.52 }, LOOK)).not.toBeNull();
    expect(failed()).toBeGreaterThan(0);
    await expect.poll(() => warn.mock.calls.length).toBe(1);
    expect(warn.mock.calls[0]?.[0]).toMatch(/FIELDSTOP_CACHE_DIR cannot be written to \(ENOSPC\)/);
    vi.restoreAllMocks();
    const left = readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => statSync(join(entry.parentPath, entry.name)).size);
    expect(Math.max(0, ...left)).toBe(0);
    // and when there is room again it is kept
    const again = await started(folder);
    expect(await again.terrain.horizonAt(PLACE, LOOK)).toEqual(expected);
    expect(again.warn).not.toHaveBeenCalled();
  },
);
