import { createReadStream } from "node:fs";
import { readFile } from "node:fs/promises";
import { pipeline } from "node:stream/promises";
import { createGunzip } from "node:zlib";
import type { ElevationGrid } from "@fieldstop/core/horizon";
import { damagedPacking, hgtCell, hgtGrid, LARGEST_HGT, readHgt } from "./hgt";
import { TileError } from "./tile-error";

/** Read and inflated at a time [B]. */
const AT_A_TIME = 1_000_000;

/**
 * The grid of heights in an `.hgt` file on disk. What is packed by gzip is inflated piece by piece into the memory that it stays in, so
 * that reading takes little more than the heights themselves.
 *
 * @throws TileError naming the file, as for its bytes, or where it cannot be read
 */
export async function readHgtFile(name: string, path: string): Promise<ElevationGrid> {
  // before anything is read
  hgtCell(name);
  try {
    if (!/\.gz$/i.test(name)) return await readHgt(name, await readFile(path));
    return hgtGrid(name, await inflated(name, path));
  } catch (error) {
    if (error instanceof TileError) throw error;
    const code = error instanceof Error && "code" in error ? String(error.code) : "unknown fault";
    throw new TileError(name, `the file cannot be read (${code})`, { cause: error });
  }
}

async function inflated(name: string, path: string): Promise<Uint8Array> {
  // a byte more tells what is too large; pages that are never written to take no memory
  const room = new Uint8Array(new SharedArrayBuffer(LARGEST_HGT + 1));
  let length = 0;
  const place = async (pieces: AsyncIterable<Uint8Array>) => {
    for await (const piece of pieces) {
      const fits = piece.subarray(0, room.length - length);
      room.set(fits, length);
      length += fits.length;
      if (length === room.length) return;
    }
  };
  try {
    await pipeline(
      createReadStream(path, { highWaterMark: AT_A_TIME }),
      createGunzip({ chunkSize: 4 * AT_A_TIME }),
      place,
    );
  } catch (error) {
    // of the system, and not of what was read
    if (error instanceof Error && "syscall" in error) throw error;
    throw damagedPacking(name, error);
  }
  return room.subarray(0, length);
}
