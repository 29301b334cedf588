import { readFile } from "node:fs/promises";
import type { ElevationGrid } from "@fieldstop/core/horizon";
import { readHgt } from "./hgt";
import { TileError } from "./tile-error";

/** An `.hgt` file that is still to be unpacked and read: where it lies, or what it holds. */
export interface HgtFile {
  /** Its name, which tells the cell and the packing. */
  readonly name: string;
  readonly from: { readonly path: string } | { readonly bytes: Uint8Array };
}

/** @throws TileError naming the file */
export async function readHgtFile({ name, from }: HgtFile): Promise<ElevationGrid> {
  return readHgt(name, "bytes" in from ? from.bytes : await contents(name, from.path));
}

async function contents(name: string, path: string): Promise<Uint8Array> {
  try {
    return await readFile(path);
  } catch (error) {
    const code = error instanceof Error && "code" in error ? String(error.code) : "unknown fault";
    throw new TileError(name, `the file cannot be read (${code})`, { cause: error });
  }
}
