import { readdirSync, readFileSync, statSync, truncateSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { crc32 } from "node:zlib";
import { createTerrain, readHgt } from "@fieldstop/terrain";
import { writeArrayBuffer } from "geotiff";
import { describe, expect, it, vi } from "vitest";
import { openPrepared, prepareTile } from "../../packages/terrain/src/tiles/prepared-tile";
import { sharedGrid } from "../../packages/terrain/src/tiles/shared-grid";
import { folderWith, hgtBytes, temporaryFolder } from "./made-tiles";

const flat = hgtBytes(1201, () => 10);
const HERE = { latitude: 56.5, longitude: -9.5 };
const NEAR = { stepDeg: 5, radiusKm: 12 };

// TIFF 6.0, section 8
const WIDTH = 256;
const HEIGHT = 257;
const LONG = 4;

/** A GeoTIFF of 10 × 10 samples, whose header says what it is told to, in whole numbers by their tags. */
function tiff(
  { corner = [-10, 57], step = 0.1 }: { corner?: readonly [number, number]; step?: number },
  tags: Readonly<Record<number, number>> = {},
): Uint8Array {
  const bytes = new Uint8Array(
    writeArrayBuffer(new Float32Array(100).fill(10), {
      width: 10,
      height: 10,
      ModelPixelScale: [step, step, 0],
      ModelTiepoint: [0, 0, 0, ...corner, 0],
      GTModelTypeGeoKey: 2,
      GeographicTypeGeoKey: 4326,
      GTRasterTypeGeoKey: 1,
    }),
  );
  const view = new DataView(bytes.buffer);
  const little = view.getUint8(0) === 0x49;
  const directory = view.getUint32(4, little);
  for (let i = 0; i < view.getUint16(directory, little); i++) {
    const at = directory + 2 + 12 * i;
    const value = tags[view.getUint16(at, little)];
    if (value === undefined) continue;
    view.setUint16(at + 2, LONG, little);
    view.setUint32(at + 8, value, little);
  }
  return bytes;
}

const tooMany = 4_000_000_000;

describe("a file whose header makes no sense", () => {
  it.each([
    [
      "of a world at 1″",
      tiff({ corner: [-180, 90], step: 1 / 3600 }, { [WIDTH]: 1_296_000, [HEIGHT]: 648_000 }),
      /split it/,
    ],
    [
      "of more samples than there is ground",
      tiff({ step: 1e-12 }, { [WIDTH]: tooMany, [HEIGHT]: tooMany }),
      /split it/,
    ],
    ["of a step as wide as the Earth", tiff({ step: 400 }), /leaves the Earth/],
    ["beyond the poles", tiff({ corner: [-10, 1e6] }), /leaves the Earth/],
    ["at no longitude", tiff({ corner: [1e300, 57] }), /leaves the Earth/],
    ["at no number", tiff({ corner: [Number.NaN, 57] }), /leaves the Earth/],
  ])("%s is named and left out, and the others are used", async (_what, bytes, said) => {
    const warn = vi.fn();
    const folder = folderWith({ "N56W010.hgt": flat, "strand.tif": bytes });
    const terrain = await createTerrain({ sources: [folder], warn });
    expect(warn.mock.calls).toEqual([[expect.stringMatching(/^FIELDSTOP_ELEVATION: strand\.tif is left out: /)]]);
    expect(warn.mock.calls[0]?.[0]).toMatch(said);
    expect((await terrain.horizonAt(HERE, NEAR))?.viewpoint.groundElevationM).toBe(10);
  });

  it("is told of without end by nobody", async () => {
    const bad = Array.from({ length: 30 }, (_, i) => [`bad${i}.tif`, "no GeoTIFF"]);
    const warn = vi.fn();
    await createTerrain({ sources: [folderWith(Object.fromEntries(bad))], warn });
    expect(warn).toHaveBeenCalledTimes(21);
    expect(warn).toHaveBeenLastCalledWith("FIELDSTOP_ELEVATION: 10 more files are left out");
  });
});

it("a grid of the whole world at 15″ is taken, and the service starts with it", async () => {
  const warn = vi.fn();
  const world = tiff({ corner: [-180, 90], step: 1 / 240 }, { [WIDTH]: 86_400, [HEIGHT]: 43_200 });
  const terrain = await createTerrain({ sources: [folderWith({ "world.tif": world })], warn });
  expect(warn).not.toHaveBeenCalled();
  // its header promises what the file does not hold
  await expect(terrain.groundElevationM(56.5, -9.5)).rejects.toThrow("world.tif");
});

describe("a prepared tile", () => {
  const prepared = async () => {
    const folder = temporaryFolder();
    const grid = await readHgt("N56W010.hgt", flat);
    await prepareTile({ grid: sharedGrid(grid, grid.pyramid), folder, key: "tile" });
    const path = readdirSync(folder, { recursive: true, withFileTypes: true })
      .map((entry) => join(entry.parentPath, entry.name))
      .find((entry) => entry.includes("content-") && statSync(entry).isFile());
    return path as string;
  };

  it.each([{ rows: 2_000_000, columns: 2_000_000 }, { rows: -1 }, { rows: 1e300 }, { rows: 1201.5 }, { kind: "int8" }])(
    "whose head says %j is none, before memory is taken for it",
    async (lie) => {
      const path = await prepared();
      expect(await openPrepared("tile", path)).not.toBeNull();
      const bytes = readFileSync(path);
      const head = JSON.parse(bytes.subarray(16, 16 + 1024).toString("utf8"));
      bytes.fill(" ", 16, 16 + 1024);
      bytes.write(JSON.stringify({ ...head, ...lie }), 16, "utf8");
      const coarse = bytes.subarray(1040, 1040 + bytes.readUInt32LE(4));
      bytes.writeUInt32LE(crc32(coarse, crc32(bytes.subarray(16, 1040))), 8);
      writeFileSync(path, bytes);
      const room = vi.spyOn(globalThis, "SharedArrayBuffer");
      try {
        expect(await openPrepared("tile", path)).toBeNull();
        expect(room).not.toHaveBeenCalled();
      } finally {
        room.mockRestore();
      }
    },
  );

  it("that was cut in the middle of being written is none", async () => {
    const path = await prepared();
    const { size } = statSync(path);
    for (const length of [size - 1, size / 2, 1040, 16, 3, 0].map(Math.floor)) {
      truncateSync(path, length);
      expect(await openPrepared("tile", path)).toBeNull();
    }
  });
});
