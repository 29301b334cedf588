import type { ByteStore } from "./byte-store";
import { openSource } from "./open-source";
import { Remote, type RemoteOptions } from "./remote/remote";
import { SourceState, sourceName } from "./remote/source-state";
import type { SharedTerrain } from "./terrain";
import { type TerrainWork, terrainJobs } from "./terrain-work";
import { type FindElsewhere, TileTerrain } from "./tile-terrain";
import { DiskStore } from "./tiles/disk-store";
import { PreparedForms } from "./tiles/prepared-forms";
import { TileCatalogue } from "./tiles/tile-catalogue";
import type { TileIndex } from "./tiles/tile-ref";
import { TileStore } from "./tiles/tile-store";

/** Nine tiles of 1″, which a viewpoint among mountains can look over. */
const DEFAULT_TILE_MEMORY_MB = 256;

/** Files that cannot be used are named up to so many. */
const FAULTS_TOLD = 20;

export interface TerrainSettings {
  /** Folders and URLs, in order of preference. */
  readonly sources: readonly string[];
  /** Memory for heights between requests [MB]; default 256. */
  readonly tileMemoryMb?: number;
  /** Where remote tiles and finished skylines are kept, and how much of it [MB]; without it they are made anew after each start. */
  readonly cache?: { readonly folder: string; readonly maxMb: number };
  /** Where finished skylines are kept in place of the cache folder, such as one that several processes share. */
  readonly horizonStore?: ByteStore;
  /** Who may find a skyline for all that share the horizon store, such as the process that is least busy. */
  readonly elsewhere?: FindElsewhere;
  /** How patient to be with remotes. */
  readonly remote?: Omit<RemoteOptions, "cache">;
  /** Who reads tiles and scans; by default it is done here, in turns. */
  readonly work?: TerrainWork;
  /** Told once where the cache cannot be written to, of files that cannot be used, and when a source goes away or comes back. */
  readonly warn?: (message: string) => void;
}

/**
 * Open elevation data that horizons are computed from: folders of tiles, GeoTIFFs read in parts over HTTP, remote `.hgt` tiles, and map tiles.
 *
 * @throws Error naming FIELDSTOP_ELEVATION for a folder that does not exist or a URL that makes no sense
 */
export async function createTerrain(settings: TerrainSettings): Promise<SharedTerrain> {
  const { sources, cache, warn } = settings;
  const disk = cache && new DiskStore({ ...cache, ...(warn && { warn }) });
  const patience = { ...settings.remote, ...(disk && { cache: disk }) };
  const states = sources.map((source) => new SourceState(sourceName(source), warn));
  const open = (state: SourceState, i: number) => openSource(sources[i] as string, new Remote(state, patience));
  const indexes = await Promise.all(states.map(open));
  if (warn) warnOfFaults(indexes, warn);
  const maxBytes = (settings.tileMemoryMb ?? DEFAULT_TILE_MEMORY_MB) * 1_000_000;
  const work = settings.work ?? terrainJobs;
  const store = new TileStore(new TileCatalogue(indexes), maxBytes, work, disk && new PreparedForms(disk, work));
  return new TileTerrain(store, work, states, settings.horizonStore ?? disk, settings.elsewhere);
}

function warnOfFaults(indexes: readonly TileIndex[], warn: (message: string) => void): void {
  const faults = indexes.flatMap((index) => index.faults ?? []);
  for (const { file, reason } of faults.slice(0, FAULTS_TOLD)) {
    warn(`FIELDSTOP_ELEVATION: ${file} is left out: ${reason}`);
  }
  const more = faults.length - FAULTS_TOLD;
  if (more > 0) warn(`FIELDSTOP_ELEVATION: ${more} more files are left out`);
}
