import type { FileHandle } from "node:fs/promises";
import type { ElevationGrid } from "@fieldstop/core/horizon";
import { openPlainFile, readPlainFile } from "../tiles/plain-file";
import { PIECE_BYTES, SharedInflater, sharedRoom } from "../tiles/shared-inflater";
import { TileError } from "../tiles/tile-error";
import { damagedPacking, hgtCell, hgtGrid, LARGEST_HGT, LARGEST_HGT_FILE, readHgt } from "./hgt";

/**
 * The grid of heights in an `.hgt` file on disk. What is plain is read, and what is packed by gzip is inflated piece by piece, into the
 * memory that it stays in, so that reading takes little more than the heights themselves.
 *
 * @throws TileError naming the file, as for its bytes, or where it cannot be read
 */
export async function readHgtFile(name: string, path: string): Promise<ElevationGrid> {
  // before anything is read
  hgtCell(name);
  try {
    if (/\.zip$/i.test(name)) return await readHgt(name, await readPlainFile(path, LARGEST_HGT_FILE));
    const { file } = await openPlainFile(path);
    try {
      return hgtGrid(name, /\.gz$/i.test(name) ? await inflatedFrom(name, file) : await plainFrom(file));
    } finally {
      await file.close();
    }
  } catch (error) {
    if (error instanceof TileError) throw error;
    const code = error instanceof Error && "code" in error ? String(error.code) : "unknown fault";
    throw new TileError(name, `the file cannot be read (${code})`, { cause: error });
  }
}

async function plainFrom(file: FileHandle): Promise<Uint8Array> {
  const bytes = sharedRoom(LARGEST_HGT);
  let length = 0;
  while (length < bytes.length) {
    const { bytesRead } = await file.read(bytes, length, bytes.length - length, length);
    if (bytesRead === 0) break;
    length += bytesRead;
  }
  return bytes.subarray(0, length);
}

async function inflatedFrom(name: string, file: FileHandle): Promise<Uint8Array> {
  const inflater = new SharedInflater("gzip", LARGEST_HGT);
  const piece = new Uint8Array(PIECE_BYTES);
  try {
    for (;;) {
      const { bytesRead } = await file.read(piece, 0, PIECE_BYTES);
      if (bytesRead === 0) return await inflater.end();
      await inflater.take(piece.subarray(0, bytesRead));
    }
  } catch (error) {
    // of the system, and not of what was read
    if (error instanceof Error && "syscall" in error) throw error;
    throw damagedPacking(name, error);
  }
}
