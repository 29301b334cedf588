import type { ByteStore } from "./byte-store";
import { isUrl, openRemote } from "./open-remote";
import { Remote, type RemoteOptions } from "./remote/remote";
import type { Terrain } from "./terrain";
import { terrainJobs } from "./terrain-work";
import { TileTerrain } from "./tile-terrain";
import { TileCatalogue } from "./tiles/tile-catalogue";
import { TileStore } from "./tiles/tile-store";

/** Smaller than on a machine of one's own: some platforms give 128 MB in all. */
const DEFAULT_TILE_MEMORY_MB = 64;

export interface RemoteTerrainSettings {
  /** URLs, in order of preference. */
  readonly sources: readonly string[];
  /** Memory for heights between requests [MB]; default 64. */
  readonly tileMemoryMb?: number;
  /** How patient to be, and where tiles are kept. */
  readonly remote?: RemoteOptions;
  /** Where finished skylines are kept, such as a store of the platform. */
  readonly horizonStore?: ByteStore;
}

/**
 * Horizons from elevation data behind URLs alone, for platforms that have no disk and no threads.
 * @throws Error naming FIELDSTOP_ELEVATION for a folder, or a URL that makes no sense
 */
export async function createRemoteTerrain(settings: RemoteTerrainSettings): Promise<Terrain> {
  const { sources, tileMemoryMb = DEFAULT_TILE_MEMORY_MB, horizonStore } = settings;
  const folder = sources.find((source) => !isUrl(source));
  if (folder !== undefined) throw new Error(`FIELDSTOP_ELEVATION names a folder, but there is no disk here: ${folder}`);
  const remote = new Remote(settings.remote);
  const indexes = await Promise.all(sources.map((source) => openRemote(source, remote)));
  const store = new TileStore(new TileCatalogue(indexes), tileMemoryMb * 1_000_000, terrainJobs);
  return new TileTerrain(store, terrainJobs, horizonStore);
}
