import { indexFolder } from "./folder-source";
import { isUrl, openRemote } from "./open-remote";
import type { Remote } from "./remote/remote";
import type { TileIndex } from "./tiles/tile-ref";

/**
 * What a source holds: a folder, or what lies behind a URL.
 * @throws Error naming FIELDSTOP_ELEVATION for a folder that does not exist or a URL that is none
 */
export function openSource(source: string, remote: Remote): Promise<TileIndex> {
  return isUrl(source) ? openRemote(source, remote) : indexFolder(source);
}
