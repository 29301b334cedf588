import { setImmediate } from "node:timers/promises";
import type { GeoTIFF } from "geotiff";
import { TileError } from "../tiles/tile-error";
import type { TileReading } from "../tiles/tile-recipe";
import { openGeoTiff, readGeoTiffBlock } from "./geotiff";
import { geoTiffLibrary } from "./geotiff-library";
import type { SampleWindow } from "./geotiff-window";
import { openLocalGeoTiff } from "./local-file";
import { requirePiece, type Slice } from "./slice";

/** Bytes of a remote file fetched at a time: a header or a few of the file's inner tiles. */
export const FILE_BLOCK = 131_072;

/** A part of a GeoTIFF that is still to be decoded: of a file, or of what has been fetched of a remote one. */
export interface GeoTiffPart {
  readonly kind: "geotiff";
  readonly name: string;
  /** Rectangle of samples. */
  readonly window: SampleWindow;
  readonly from:
    | { readonly path: string }
    | { readonly blocks: readonly (readonly [index: number, bytes: Uint8Array])[] };
}

/** @throws TileError naming the file where it cannot be read */
export async function readGeoTiffPart({ name, window, from }: GeoTiffPart): Promise<TileReading> {
  const held = "blocks" in from ? new HeldFile(from.blocks) : undefined;
  let tiff: GeoTIFF | undefined;
  try {
    const { GeoTIFF: Library } = await geoTiffLibrary();
    tiff =
      "path" in from
        ? await openLocalGeoTiff(from.path)
        : await Library.fromSource(held as unknown as Parameters<typeof Library.fromSource>[0]);
    return { kind: "grid", grid: await readGeoTiffBlock(name, await openGeoTiff(name, tiff), window) };
  } catch (error) {
    if (held !== undefined && held.missing.size > 0) return { kind: "needs", blocks: [...held.missing] };
    if (error instanceof TileError) throw error;
    const why = error instanceof Error ? error.message : String(error);
    throw new TileError(name, `the file does not open (${why}): truncated, or no GeoTIFF`, { cause: error });
  } finally {
    await tiff?.close();
  }
}

/** What there is of a remote file; notes what is asked for beside that. */
class HeldFile {
  readonly fileSize = null;
  readonly missing = new Set<number>();
  readonly #blocks: ReadonlyMap<number, Uint8Array>;

  constructor(blocks: readonly (readonly [number, Uint8Array])[]) {
    this.#blocks = new Map(blocks);
  }

  fetch(slices: readonly Slice[]): Promise<ArrayBuffer[]> {
    return Promise.all(slices.map((slice) => this.#slice(slice)));
  }

  async close(): Promise<void> {}

  async #slice({ offset, length }: Slice): Promise<ArrayBuffer> {
    requirePiece(length);
    const first = Math.floor(offset / FILE_BLOCK);
    const last = Math.floor((offset + length - 1) / FILE_BLOCK);
    const indices = Array.from({ length: last - first + 1 }, (_, i) => first + i);
    const lacking = indices.filter((index) => !this.#blocks.has(index));
    if (lacking.length > 0) {
      for (const index of lacking) this.missing.add(index);
      // others that are asked for at the same time are noted before this one fails them all
      await setImmediate();
      throw new Error("not all of the file has been fetched");
    }
    const joined = Buffer.concat(indices.map((index) => this.#blocks.get(index) as Uint8Array));
    const from = offset - first * FILE_BLOCK;
    return new Uint8Array(joined.subarray(from, from + length)).buffer;
  }
}
