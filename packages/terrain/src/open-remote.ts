import { isGeoTiff } from "./geotiff/geotiff";
import { remoteGeoTiffIndex } from "./geotiff/remote-geotiff";
import { remoteHgtIndex } from "./hgt/remote-hgt";
import { remoteMapTileIndex } from "./map-tiles/remote-map-tiles";
import type { Remote } from "./remote/remote";
import type { TileIndex } from "./tiles/tile-ref";

/**
 * What lies behind a URL: a GeoTIFF, map tiles where it is a template, or `.hgt` tiles where it is their base.
 * @throws Error naming FIELDSTOP_ELEVATION for a URL that is none
 */
export async function openRemote(source: string, remote: Remote): Promise<TileIndex> {
  if (!URL.canParse(source)) throw new Error(`FIELDSTOP_ELEVATION names a URL that is none: ${source}`);
  const placeholders = ["{z}", "{x}", "{y}"].filter((placeholder) => source.includes(placeholder));
  if (placeholders.length === 3) return remoteMapTileIndex(source, remote);
  if (placeholders.length > 0) throw new Error(`FIELDSTOP_ELEVATION: ${source} must have all of {z}, {x} and {y}`);
  if (isGeoTiff(new URL(source).pathname)) return remoteGeoTiffIndex(source, remote);
  return remoteHgtIndex(source, remote);
}

export function isUrl(source: string): boolean {
  return /^https?:/i.test(source);
}
