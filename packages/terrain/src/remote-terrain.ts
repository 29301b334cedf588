import type { ByteStore } from "./byte-store";
import { isUrl, openRemote } from "./open-remote";
import { Remote, type RemoteOptions } from "./remote/remote";
import { SourceState, sourceName } from "./remote/source-state";
import type { Terrain, TerrainSources } from "./terrain";
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
  /** Told when a source goes away or comes back. */
  readonly warn?: (message: string) => void;
}

/**
 * Horizons from elevation data behind URLs alone, for platforms that have no disk and no threads.
 * @throws Error naming FIELDSTOP_ELEVATION for a folder, or a URL that makes no sense
 */
export async function createRemoteTerrain(settings: RemoteTerrainSettings): Promise<Terrain & TerrainSources> {
  const { sources, tileMemoryMb = DEFAULT_TILE_MEMORY_MB, horizonStore } = settings;
  const folder = sources.find((source) => !isUrl(source));
  if (folder !== undefined) throw new Error(`FIELDSTOP_ELEVATION names a folder, but there is no disk here: ${folder}`);
  const states = sources.map((source) => new SourceState(sourceName(source), settings.warn));
  const open = (state: SourceState, i: number) => openRemote(sources[i] as string, new Remote(state, settings.remote));
  const indexes = await Promise.all(states.map(open));
  const store = new TileStore(new TileCatalogue(indexes), tileMemoryMb * 1_000_000, terrainJobs);
  return new TileTerrain(store, terrainJobs, states, horizonStore);
}
