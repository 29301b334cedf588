import { indexFolder } from "./folder-source";
import { isGeoTiff } from "./geotiff";
import type { Remote } from "./remote";
import { remoteGeoTiffIndex } from "./remote-geotiff";
import { remoteHgtIndex } from "./remote-hgt";
import { remoteMapTileIndex } from "./remote-map-tiles";
import type { TileIndex } from "./tile-ref";

/**
 * What a source holds: a folder, the URL of a GeoTIFF, a URL template of map tiles, or the base URL of `.hgt` tiles.
 * @throws Error naming FIELDSTOP_ELEVATION for a folder that does not exist or a URL that is none
 */
export async function openSource(source: string, remote: Remote): Promise<TileIndex> {
  if (!/^https?:/i.test(source)) return indexFolder(source);
  if (!URL.canParse(source)) throw new Error(`FIELDSTOP_ELEVATION names a URL that is none: ${source}`);
  const placeholders = ["{z}", "{x}", "{y}"].filter((placeholder) => source.includes(placeholder));
  if (placeholders.length === 3) return remoteMapTileIndex(source, remote);
  if (placeholders.length > 0) throw new Error(`FIELDSTOP_ELEVATION: ${source} must have all of {z}, {x} and {y}`);
  if (isGeoTiff(new URL(source).pathname)) return remoteGeoTiffIndex(source, remote);
  return remoteHgtIndex(source, remote);
}
