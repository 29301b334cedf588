import { join } from "node:path";
import { readPlainFile } from "../tiles/plain-file";
import { TileError } from "../tiles/tile-error";
import { type MapTileSource, mapTileName } from "./map-tiles";
import { LARGEST_MAP_TILE } from "./terrarium";

const NAME = /^(\d+)[\\/]\d+[\\/]\d+\.png$/;

/** Whether a file is a map tile by its place in the folder: `10/485/316.png`. */
export const isMapTile = (name: string): boolean => NAME.test(name);

/** Map tiles in a folder, as they were copied or mirrored; the most detailed zoom is the largest that it holds. */
export function folderOfMapTiles(folder: string, names: readonly string[], version: string): MapTileSource {
  return {
    key: folder,
    version,
    deepest: names.reduce((deepest, name) => Math.max(deepest, Number(NAME.exec(name)?.[1])), 0),
    hasDepths: true,
    fetch: async (tile) => {
      const name = mapTileName(tile);
      try {
        return await readPlainFile(join(folder, name), LARGEST_MAP_TILE);
      } catch (error) {
        const code = error instanceof Error && "code" in error ? String(error.code) : "unknown fault";
        if (code === "ENOENT") return null;
        throw new TileError(name, `the file cannot be read (${code})`, { cause: error });
      }
    },
  };
}
