import type { ElevationGrid } from "@fieldstop/core/horizon";
import { type GeoTiffPart, readGeoTiffPart } from "../geotiff/geotiff-part";
import { readHgt } from "../hgt/hgt";
import { readHgtFile } from "../hgt/hgt-file";
import { readMapTiles, type TileMosaic } from "../map-tiles/tile-mosaic";
import { TileError } from "./tile-error";

/** An `.hgt` file that is still to be unpacked and read: where it lies, or what it holds. */
export interface HgtFile {
  readonly kind: "hgt";
  /** Its name, which tells the cell and the packing. */
  readonly name: string;
  readonly from: { readonly path: string } | { readonly bytes: Uint8Array };
}

/** What a tile is made of, as plain data that another thread can decode. */
export type TileRecipe = HgtFile | GeoTiffPart | TileMosaic;

/** What came of it: the grid, or what else is needed for it. */
export type TileReading =
  | { readonly kind: "grid"; readonly grid: ElevationGrid }
  /** Blocks of the remote file without which it cannot be read. */
  | { readonly kind: "needs"; readonly blocks: readonly number[] }
  /** One of the map tiles is none. */
  | { readonly kind: "damaged"; readonly index: number; readonly why: string };

/** @throws TileError naming the file */
export async function readRecipe(recipe: TileRecipe): Promise<TileReading> {
  switch (recipe.kind) {
    case "hgt":
      return { kind: "grid", grid: await readHgtRecipe(recipe) };
    case "geotiff":
      return readGeoTiffPart(recipe);
    case "map-tiles":
      return readMapTiles(recipe);
  }
}

/**
 * The grid of a reading that was given all that it could need.
 * @throws TileError naming the file
 */
export function gridOf(name: string, reading: TileReading): ElevationGrid {
  if (reading.kind === "grid") return reading.grid;
  throw new TileError(name, "not all of it is there");
}

function readHgtRecipe({ name, from }: HgtFile): Promise<ElevationGrid> {
  return "bytes" in from ? readHgt(name, from.bytes) : readHgtFile(name, from.path);
}
