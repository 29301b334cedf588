import { mkdtempSync, rmSync } from "node:fs";
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

/** A folder that goes when the tests of the file are over. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "fieldstop-terrain-"));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}
