import type { GeoTIFF } from "geotiff";
import { cellBox, cellFromName } from "./degree-cell";
import { blockBox, blocksOf, openGeoTiff, readGeoTiffBlock } from "./geotiff";
import { TileError } from "./tile-error";
import type { TileRef, TileSource } from "./tile-ref";

/**
 * The tiles of one GeoTIFF: the blocks that it is read in.
 *
 * @param key unique among all tiles
 * @param name what people call the file
 * @param open opens it; asked again when the file was bad
 * @throws TileError for a file whose place cannot be told from its header, nor from its name
 */
export async function geoTiffTiles(
  key: string,
  name: string,
  source: TileSource,
  open: () => Promise<GeoTIFF>,
): Promise<TileRef[]> {
  const openRaster = async () => {
    try {
      return await openGeoTiff(name, await open());
    } catch (error) {
      if (error instanceof TileError) throw error;
      const why = error instanceof Error ? error.message : String(error);
      throw new TileError(name, `the file does not open (${why}): truncated, or no GeoTIFF`, { cause: error });
    }
  };
  try {
    const raster = await openRaster();
    return blocksOf(raster).map((block, i) => ({
      key: `${key}#${i}`,
      name,
      box: blockBox(raster, block),
      source,
      load: () => readGeoTiffBlock(name, raster, block),
    }));
  } catch (error) {
    // a bad file whose name tells its cell takes only that cell with it, and may be mended while the service runs
    const cell = cellFromName(name);
    if (cell === null) throw error;
    const load = async () => {
      const raster = await openRaster();
      const [first, ...others] = blocksOf(raster);
      if (first === undefined || others.length > 0) throw new TileError(name, "mended since the start; start again");
      return readGeoTiffBlock(name, raster, first);
    };
    return [{ key, name, box: cellBox(cell), source, load }];
  }
}
