import { execFileSync } from "node:child_process";
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { crc32, deflateSync } from "node:zlib";
import { createTerrain } from "@fieldstop/terrain";
import { writeArrayBuffer } from "geotiff";
import { describe, expect, it, vi } from "vitest";
import { inflate, lzw, packBits } from "../../packages/terrain/src/geotiff/unpack";
import { boundedPng } from "../../packages/terrain/src/map-tiles/bounded-png";
import { folderWith, hgtBytes, temporaryFolder } from "./made-tiles";

/** A codes' stream of 9 bits each, as LZW begins. */
function codes(...values: readonly number[]): Uint8Array {
  const bits = values.map((value) => value.toString(2).padStart(9, "0")).join("");
  return Uint8Array.from(bits.match(/.{1,8}/g) ?? [], (byte) => Number.parseInt(byte.padEnd(8, "0"), 2));
}

describe("what is packed in a GeoTIFF", () => {
  it.each([
    ["Deflate", inflate, deflateSync(new Uint8Array(1000).fill(7)), new Uint8Array(1000).fill(7)],
    [
      "PackBits",
      packBits,
      Uint8Array.of(0xfe, 0xaa, 2, 0x80, 0, 0x2a, 0x80, 0xfd, 0xaa),
      [0xaa, 0xaa, 0xaa, 0x80, 0, 0x2a, 0xaa, 0xaa, 0xaa, 0xaa],
    ],
    ["LZW", lzw, codes(256, 7, 258, 8, 259, 257), [7, 7, 7, 8, 7, 7, 8]],
  ])("comes out of %s up to the bound, and no further", (_packing, unpack, packed, plain) => {
    const expected = Uint8Array.from(plain);
    expect(Uint8Array.from(unpack(packed, expected.length))).toEqual(expected);
    expect(Uint8Array.from(unpack(packed, 10_000))).toEqual(expected);
    expect(() => unpack(packed, expected.length - 1)).toThrow("more comes out of the packing than the header says");
  });

  it("is refused where LZW refers to what is not there", () => {
    expect(() => lzw(codes(256, 7, 300), 100)).toThrow("a code that stands for nothing");
  });

  it.each(["NONE", "LZW", "PACKBITS", "DEFLATE", "ZSTD"])("comes out the same from %s", async (packing) => {
    const folder = temporaryFolder();
    const source = join(temporaryFolder(), "N56W010.hgt");
    writeFileSync(
      source,
      hgtBytes(1201, (row, column) => 300 + ((row * row + 7 * column * column) % 400)),
    );
    const args = ["-q", "-of", "GTiff", "-co", `COMPRESS=${packing}`, source, join(folder, "hills.tif")];
    execFileSync("gdal_translate", args);
    const [packed, plain] = await Promise.all(
      [folder, join(source, "..")].map((place) => createTerrain({ sources: [place] })),
    );
    for (const [latitude, longitude] of [
      [56.501, -9.502],
      [56.03, -9.97],
      [56.97, -9.04],
    ] as const) {
      const height = await plain?.groundElevationM(latitude, longitude);
      expect(await packed?.groundElevationM(latitude, longitude)).toBeCloseTo(height ?? Number.NaN, 3);
    }
  });

  it("is left in it where it comes to more than the header says", async () => {
    const height = 64;
    const bomb = deflateSync(new Uint8Array(300_000_000), { level: 9 });
    const plain = new Uint8Array(
      writeArrayBuffer(new Float32Array(height * height), {
        width: height,
        height,
        ModelPixelScale: [1 / height, 1 / height, 0],
        ModelTiepoint: [0, 0, 0, -10, 57, 0],
        GTModelTypeGeoKey: 2,
        GeographicTypeGeoKey: 4326,
        GTRasterTypeGeoKey: 1,
      }),
    );
    const bytes = Buffer.concat([plain, bomb]);
    // TIFF 6.0: Compression, StripOffsets, StripByteCounts
    const values = new Map([
      [259, 8],
      [273, plain.length],
      [279, bomb.length],
    ]);
    const directory = bytes.readUInt32BE(4);
    for (let i = 0; i < bytes.readUInt16BE(directory); i++) {
      const at = directory + 2 + 12 * i;
      const value = values.get(bytes.readUInt16BE(at));
      if (value === undefined) continue;
      bytes.writeUInt16BE(4, at + 2);
      bytes.writeUInt32BE(value, at + 8);
    }
    const terrain = await createTerrain({ sources: [folderWith({ "strand.tif": bytes })] });
    const before = process.memoryUsage().rss;
    await expect(terrain.groundElevationM(56.5, -9.5)).rejects.toThrow(
      /strand\.tif: .*more comes out of the packing than the header says/,
    );
    expect(process.memoryUsage().rss - before).toBeLessThan(200_000_000);
  });
});

/** A PNG of chunks. */
function png(...chunks: readonly (readonly [type: string, data: Uint8Array])[]): Uint8Array {
  const parts = chunks.map(([type, data]) => {
    const body = Buffer.concat([Buffer.from(type), data]);
    const around = Buffer.alloc(8);
    around.writeUInt32BE(data.length, 0);
    around.writeUInt32BE(crc32(body), 4);
    return Buffer.concat([around.subarray(0, 4), body, around.subarray(4)]);
  });
  return Buffer.concat([Buffer.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a), ...parts]);
}
function header(side: number): readonly ["IHDR", Uint8Array] {
  const data = Buffer.alloc(13);
  data.writeUInt32BE(side, 0);
  data.writeUInt32BE(side, 4);
  data.set([8, 2, 0, 0, 0], 8);
  return ["IHDR", data];
}
const end = ["IEND", new Uint8Array(0)] as const;
const pixels = ["IDAT", deflateSync(new Uint8Array(256 * (1 + 256 * 3)))] as const;

describe("a map tile", () => {
  it.each([
    ["of more pixels than a tile has", png(header(50_000), pixels, end), /which no tile has/],
    [
      "that is packed to more than its pixels",
      png(header(256), ["IDAT", deflateSync(new Uint8Array(100_000_000))], end),
      /larger than/,
    ],
  ])("%s is refused by its header", async (_what, bytes, said) => {
    expect(() => boundedPng(bytes, 1024)).toThrow(said);
    const terrain = await createTerrain({ sources: [folderWith({ "0/0/0.png": bytes })] });
    await expect(terrain.groundElevationM(56.5, -9.5)).rejects.toThrow(/0\/0\/0\.png: no elevation tile/);
  });

  it("is read without what its pixels do not need", () => {
    const profile = ["iCCP", Buffer.concat([Buffer.from("a\0\0"), deflateSync(new Uint8Array(50_000_000))])] as const;
    expect(boundedPng(png(header(256), profile, pixels, end), 1024)).toEqual(png(header(256), pixels, end));
  });
});

describe("a pipe that is named like a", () => {
  it.each([
    ["N56W010.hgt", /not a plain file/],
    ["N56W010.hgt.gz", /not a plain file/],
    ["N56W010.hgt.zip", /not a plain file/],
    ["N56W010.tif", /not a plain file/],
    ["0/0/0.png", /not a plain file/],
  ])("%s is not waited for", async (name, said) => {
    const folder = temporaryFolder();
    mkdirSync(join(folder, name, ".."), { recursive: true });
    execFileSync("mkfifo", [join(folder, name)]);
    const terrain = await createTerrain({ sources: [folder] });
    await expect(terrain.groundElevationM(56.5, -9.5)).rejects.toThrow(said);
  });
});

it("a pipe in place of the attribution is named, and stops nothing", async () => {
  const folder = folderWith({ "N56W010.hgt": hgtBytes(1201, () => 10) });
  execFileSync("mkfifo", [join(folder, "ATTRIBUTION.txt")]);
  const warn = vi.fn();
  const terrain = await createTerrain({ sources: [folder], warn });
  expect(await terrain.groundElevationM(56.5, -9.5)).toBe(10);
  expect(warn.mock.calls).toEqual([[expect.stringMatching(/ATTRIBUTION\.txt is left out: .*not a plain file/)]]);
});

it("a packed tile that is too large is not read at all", async () => {
  const terrain = await createTerrain({ sources: [folderWith({ "N56W010.hgt.zip": new Uint8Array(27_000_000) })] });
  await expect(terrain.groundElevationM(56.5, -9.5)).rejects.toThrow(/27000000 bytes, which is too large/);
});
