import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll } from "vitest";

/** The bytes of an `.hgt` tile whose heights are a function of row and column from the north-west. */
export function hgtBytes(side: number, heightM: (row: number, column: number) => number): Uint8Array {
  const bytes = new Uint8Array(side * side * 2);
  const view = new DataView(bytes.buffer);
  for (let row = 0; row < side; row++) {
    for (let column = 0; column < side; column++) {
      view.setInt16(2 * (row * side + column), heightM(row, column));
    }
  }
  return bytes;
}

/** The bytes of a TIFF of a sea of 16-bit heights with nothing in it that says where on Earth it lies. */
export function placelessTiff(side: number): Uint8Array {
  // TIFF 6.0, section 8: width, height, bits, compression, photometric, strip offset, samples, rows a strip, bytes, sample format
  const tags = [256, 257, 258, 259, 262, 273, 277, 278, 279, 339];
  const directory = 8 + side * side * 2;
  const values = [side, side, 16, 1, 1, 8, 1, side, side * side * 2, 2];
  const view = new DataView(new ArrayBuffer(directory + 2 + 12 * tags.length + 4));
  view.setUint32(0, 0x4949_2a00);
  view.setUint32(4, directory, true);
  view.setUint16(directory, tags.length, true);
  tags.forEach((tag, i) => {
    const at = directory + 2 + 12 * i;
    view.setUint16(at, tag, true);
    view.setUint16(at + 2, 4, true);
    view.setUint32(at + 4, 1, true);
    view.setUint32(at + 8, values[i] as number, true);
  });
  return new Uint8Array(view.buffer);
}

/** A folder that goes when the tests of the file are over. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "fieldstop-terrain-"));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** The same with files in it, by their paths within it. */
export function folderWith(files: Readonly<Record<string, Uint8Array | string>>): string {
  const folder = temporaryFolder();
  for (const [name, bytes] of Object.entries(files)) {
    mkdirSync(join(folder, name, ".."), { recursive: true });
    writeFileSync(join(folder, name), bytes);
  }
  return folder;
}

/** The bytes of a 3″ `.hgt` tile of waves of ground, 100 to 500 m high. */
export const hillyTile = (): Uint8Array =>
  hgtBytes(1201, (row, column) => Math.round(300 + 200 * Math.sin(row / 40) * Math.cos(column / 30)));
