import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { readHgt, TileError } from "@fieldstop/terrain";
import { gzipSync, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { readHgtFile } from "../../../packages/terrain/src/hgt/hgt-file";
import { hgtBytes } from "../made-tiles";

const plain = hgtBytes(1201, (row, column) => (row === 3 && column === 4 ? -32768 : 1200 + row - column));
const fine = hgtBytes(3601, (row, column) => (row + column) % 700);
const zip = (bytes: Uint8Array, name = "N56W010.hgt") => zipSync({ "readme.txt": new Uint8Array(3), [name]: bytes });

describe("readHgt", () => {
  it.each([
    ["N56W010.hgt", plain],
    ["N56W010.SRTMGL3.hgt", plain],
    ["N56W010.hgt.gz", gzipSync(plain)],
    ["n56w010.SRTMGL3.hgt.zip", zip(plain)],
    ["n56w010.hgt.zip", zipSync({ "N56W010.hgt": plain }, { level: 0 })],
  ])("reads a 3″ tile: %s", async (name, bytes) => {
    const grid = await readHgt(name, bytes);
    expect(grid).toMatchObject({ rows: 1201, columns: 1201, northDeg: 57, westDeg: -10 });
    expect(grid.southDeg).toBeCloseTo(56, 12);
    expect(grid.eastDeg).toBeCloseTo(-9, 12);
    // column, row
    expect(grid.elevationAt(0, 0)).toBe(1200);
    expect(grid.elevationAt(1200, 0)).toBe(0);
    expect(grid.elevationAt(10.5, 300.25)).toBeCloseTo(1489.75, 9);
    expect(grid.elevationAt(4, 3)).toBeNull();
    expect(grid.elevationAt(4.5, 3.5)).toBeNull();
    expect(grid.elevationAt(5, 3)).toBe(1198);
  });

  it("reads a 1″ tile, south and east", async () => {
    const grid = await readHgt("S34E018.SRTMGL1.hgt.zip", zip(fine, "S34E018.hgt"));
    expect(grid).toMatchObject({ rows: 3601, northDeg: -33, westDeg: 18 });
    expect(grid.elevationAt(100, 200)).toBe(300);
  });

  it.each([
    ["N56W010.hgt", plain],
    ["N56W010.hgt.gz", gzipSync(plain)],
    ["N56W010.hgt.zip", zip(plain)],
    ["S34E018.hgt", fine],
    ["S34E018.hgt.gz", gzipSync(fine)],
  ])("reads a file as it reads its bytes, into memory that threads share: %s", async (name, bytes) => {
    const folder = mkdtempSync(join(tmpdir(), "fieldstop-"));
    try {
      writeFileSync(join(folder, name), bytes);
      const { samples } = await readHgtFile(name, join(folder, name));
      expect(samples.buffer).toBeInstanceOf(SharedArrayBuffer);
      const expected = (await readHgt(name, bytes)).samples;
      expect(samples.length).toBe(expected.length);
      expect(samples.every((z, i) => z === expected[i])).toBe(true);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });

  it.each([
    ["N56W010.hgt", new Uint8Array(30_000_000)],
    ["N56W010.hgt.gz", gzipSync(new Uint8Array(300_000_000))],
  ])("stops at a byte too many of a file: %s", async (name, bytes) => {
    const folder = mkdtempSync(join(tmpdir(), "fieldstop-"));
    try {
      writeFileSync(join(folder, name), bytes);
      await expect(readHgtFile(name, join(folder, name))).rejects.toThrow(`${3601 * 3601 * 2 + 1} bytes of heights`);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });

  it("leaves the bytes it was given as they were", async () => {
    const copy = plain.slice();
    await readHgt("N56W010.hgt", copy);
    expect(Buffer.compare(copy, plain)).toBe(0);
  });

  it("builds a pyramid that no height overtops", async () => {
    const { pyramid, samples } = await readHgt(
      "N00E000.hgt",
      hgtBytes(1201, (row, column) => (row * 31 + column * 17) % 997),
    );
    expect(pyramid.highestM).toBe(996);
    expect(pyramid.hasVoids).toBe(false);
    for (let row = 0; row < 1200; row += 7) {
      for (let column = 0; column < 1200; column += 5) {
        const corners = [samples[row * 1201 + column], samples[row * 1201 + column + 1202]] as number[];
        for (let level = 0; level < 5; level++) {
          const shift = 2 * (level + 1);
          const at =
            (pyramid.offsets[level] as number) + (row >> shift) * (pyramid.widths[level] as number) + (column >> shift);
          expect(pyramid.maxima[at]).toBeGreaterThanOrEqual(Math.max(...corners));
        }
      }
    }
  });

  const swapped = Buffer.from(hgtBytes(1201, (row) => 20 + row));
  swapped.swap16();
  it.each([
    ["N56W010.hgt", plain.subarray(0, 2_000_000), /2000000 bytes.*truncated/],
    ["N56W010.hgt", new Uint8Array(0), /0 bytes/],
    ["N56W010.hgt", new Uint8Array(3601 * 3601 * 2 + 2), /too large/],
    ["N56W010.hgt.gz", gzipSync(plain).subarray(0, 9000), /does not open.*truncated/],
    ["N56W010.hgt.gz", gzipSync(new Uint8Array(40_000_000)), /too large/],
    ["N56W010.hgt.gz", plain, /does not open/],
    ["N56W010.hgt.zip", zip(plain).subarray(0, 5000), /does not open/],
    ["N56W010.hgt.zip", zipSync({ "a.txt": plain }), /no \.hgt file/],
    ["N56W010.hgt.zip", zipSync({ "a.hgt": plain, "b.hgt": plain }), /more than one/],
    ["N56W010.hgt.zip", zipSync({ "a.hgt": plain, "b.hgt": plain }, { level: 0 }), /more than one/],
    ["N56W010.hgt.zip", zip(new Uint8Array(30_000_000)), /too large/],
    ["N56W010.SRTMGL1.hgt", plain, /name says 1″, the size says 3″/],
    ["N56W010.hgt", swapped, /byte order reversed/],
    ["ardvane.hgt", plain, /tells no degree cell/],
    ["N95W010.hgt", plain, /tells no degree cell/],
    ["N56W190.hgt", plain, /tells no degree cell/],
  ])("refuses %s (%#), naming the file and the reason", async (name, bytes, reason) => {
    const error = await readHgt(name, bytes).then(
      () => null,
      (thrown: unknown) => thrown,
    );
    expect(error).toBeInstanceOf(TileError);
    expect((error as TileError).file).toBe(name);
    expect((error as TileError).message).toContain(name);
    expect((error as TileError).reason).toMatch(reason);
  });
});
