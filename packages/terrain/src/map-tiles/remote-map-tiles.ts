import type { Remote } from "../remote/remote";
import { RemoteError } from "../remote/remote-error";
import { TileError } from "../tiles/tile-error";
import type { TileIndex } from "../tiles/tile-ref";
import { type MapTile, mapTileName, mapTilesIn } from "./map-tiles";
import { LARGEST_MAP_TILE } from "./terrarium";
import { ZoomMemory } from "./zoom-memory";

/**
 * Map tiles under a URL template with `{z}`, `{x}` and `{y}`. Its fragment may say what the most detailed zoom is (`#z=12`), which is
 * looked for place by place otherwise, and that heights below zero are ground rather than the sea's floor (`#depths=no`); `&` stands
 * between the two.
 *
 * @throws Error naming FIELDSTOP_ELEVATION for a fragment that says something else
 */
export function remoteMapTileIndex(template: string, remote: Remote): TileIndex {
  const [address = "", fragment = ""] = template.split("#");
  const details = new URLSearchParams(fragment);
  const zoom = Number(details.get("z") ?? 0);
  const depths = details.get("depths") ?? "yes";
  const known = [...details.keys()].every((key) => key === "z" || key === "depths");
  if (!(known && Number.isInteger(zoom) && zoom >= 0 && zoom <= 22 && /^(yes|no)$/.test(depths))) {
    throw new Error(`FIELDSTOP_ELEVATION: #${fragment} must be such as #z=12 or #z=12&depths=no (z from 0 to 22)`);
  }
  const urlOf = ({ z, x, y }: MapTile) =>
    address.replace("{z}", String(z)).replace("{x}", String(x)).replace("{y}", String(y));
  // written once, so that their age counts from when they came
  const kept = new WeakSet<Uint8Array>();
  const tilesIn = mapTilesIn({
    key: template,
    // what has been fetched counts for as long as what comes from remotes does
    version: "as first fetched",
    deepest: details.has("z") ? zoom : new ZoomMemory(template, remote.cache),
    hasDepths: depths === "yes",
    fetch: async (tile, signal) => {
      const url = urlOf(tile);
      try {
        const found = await remote.fetchUnlessKept(url, { mostBytes: LARGEST_MAP_TILE, signal });
        if (found?.isKept) kept.add(found.bytes);
        return found?.bytes ?? null;
      } catch (error) {
        if (!(error instanceof RemoteError)) throw error;
        throw new TileError(mapTileName(tile), error.message, { cause: error });
      }
    },
    keep: (tile, bytes) => {
      if (!kept.has(bytes)) void remote.cache?.set(urlOf(tile), bytes);
    },
    isRemote: true,
  });
  return { tiles: [], unplaced: [], tilesIn, fingerprint: [template], isRemote: true };
}
