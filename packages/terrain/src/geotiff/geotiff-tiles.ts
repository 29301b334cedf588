import type { ElevationGrid } from "@fieldstop/core/horizon";
import type { GeoTIFF } from "geotiff";
import { cellBox, cellFromName } from "../tiles/degree-cell";
import { TileError } from "../tiles/tile-error";
import type { TileReader, TileRef, TileSource } from "../tiles/tile-ref";
import { blockBox, blocksOf, type GeoTiffRaster, openGeoTiff } from "./geotiff";
import type { SampleWindow } from "./geotiff-window";

/** Reads a rectangle of a file's samples, decoded by the given reader. */
export type WindowReader = (window: SampleWindow, read: TileReader) => Promise<ElevationGrid>;

/**
 * The tiles of one GeoTIFF: the blocks that it is read in.
 *
 * @param key unique among all tiles
 * @param name what people call the file
 * @param open opens it to see where it lies
 * @param version what tells this file from another in its place, once it is open; empty where nothing does
 * @throws TileError for a file whose place cannot be told from its header
 */
export async function geoTiffTiles(
  key: string,
  name: string,
  source: TileSource,
  open: () => Promise<GeoTIFF>,
  readWindow: WindowReader,
  version: () => string,
): Promise<TileRef[]> {
  const raster = await openRaster(name, open);
  const opened = version();
  return blocksOf(raster).map((block, i) => ({
    key: `${key}#${i}`,
    name,
    box: blockBox(raster, block),
    source,
    ...(opened !== "" && { version: opened }),
    load: (read) => readWindow(block, read),
  }));
}

/**
 * The tile of a bad file by the degree cell that its name tells: it takes only that cell with it, and may be mended while the service
 * runs. Null where the name tells none.
 */
export function geoTiffTileByName(
  key: string,
  name: string,
  source: TileSource,
  open: () => Promise<GeoTIFF>,
  readWindow: WindowReader,
): TileRef | null {
  const cell = cellFromName(name);
  if (cell === null) return null;
  const load = async (read: TileReader) => {
    const raster = await openRaster(name, open);
    const [first, ...others] = blocksOf(raster);
    if (first === undefined || others.length > 0) throw new TileError(name, "mended since the start; start again");
    return readWindow(first, read);
  };
  return { key, name, box: cellBox(cell), source, load };
}

/** What the header says; the file is closed again. */
async function openRaster(name: string, open: () => Promise<GeoTIFF>): Promise<GeoTiffRaster> {
  let tiff: GeoTIFF | undefined;
  try {
    tiff = await open();
    return await openGeoTiff(name, tiff);
  } catch (error) {
    if (error instanceof TileError) throw error;
    const why = error instanceof Error ? error.message : String(error);
    throw new TileError(name, `the file does not open (${why}): truncated, or no GeoTIFF`, { cause: error });
  } finally {
    await tiff?.close();
  }
}
