import type { ElevationGrid, HorizonScan, Refinement, UnknownCell } from "@fieldstop/core/horizon";
import { TileError } from "../tiles/tile-error";
import type { TileRef } from "../tiles/tile-ref";
import type { TileStore } from "../tiles/tile-store";

/** Scans azimuths over grids, for the first time or going on with a scan. */
export type Scan = (
  grids: readonly ElevationGrid[],
  azimuthsDeg: readonly number[],
  goesOn: boolean,
  refine?: Refinement,
) => Promise<HorizonScan>;

export interface GatheredScan {
  readonly scan: HorizonScan;
  /** Tiles that could not be had, by key. */
  readonly failures: ReadonlyMap<string, TileError>;
  /** Whether all that was looked at will look the same next time. */
  readonly lasting: boolean;
}

/** Tiles within this distance are fetched first: a ridge near by saves loading what lies behind it [m]. */
const NEAR_M = 40_000;

/**
 * Scans with the tiles at hand, fetches the tiles that could still raise the skyline, scans the doubtful azimuths again, and
 * so on until no tile is left that matters. Only then are azimuths put between, and what these still want is fetched too.
 *
 * @param within all tiles that could matter: where they are at hand, one scan does it all
 */
export async function gatherScan(
  store: TileStore,
  atHand: readonly { tile: TileRef; grid: ElevationGrid }[],
  within: readonly TileRef[],
  azimuthsDeg: readonly number[],
  scanGrids: Scan,
  refine?: Refinement,
): Promise<GatheredScan> {
  const loaded = new Map(atHand.map((entry) => [entry.tile.key, entry]));
  const failures = new Map<string, TileError>();
  const absent = new Set<string>();
  const isNew = ({ key }: TileRef) => !loaded.has(key) && !failures.has(key) && !absent.has(key);
  const grids = () =>
    store.catalogue
      .inOrder([...loaded.values()].map(({ tile }) => tile))
      .flatMap((tile) => loaded.get(tile.key)?.grid ?? []);
  const atOnce = within.every(({ key }) => loaded.has(key));
  let scan = await scanGrids(grids(), azimuthsDeg, false, atOnce ? refine : undefined);
  let toRefine = atOnce ? undefined : refine;
  for (;;) {
    const wanted = nearestTiles(store, scan.unknownCells, isNew);
    if (wanted.length === 0 && toRefine !== undefined) {
      scan = await scanGrids(grids(), azimuthsDeg, true, toRefine);
      toRefine = undefined;
      continue;
    }
    if (wanted.length === 0) {
      const lasting = failures.size === 0 && [...loaded.values()].every(({ tile }) => !store.isHalfFilled(tile));
      return { scan, failures, lasting };
    }
    const results = await Promise.all(wanted.map(async (tile) => [tile, await store.load(tile)] as const));
    for (const [tile, result] of results) {
      if (result instanceof TileError) failures.set(tile.key, result);
      else if (result === null) absent.add(tile.key);
      else loaded.set(tile.key, { tile, grid: result });
    }
    scan = await rescanDoubtful(scan, (doubtful) => scanGrids(grids(), doubtful, true));
  }
}

function nearestTiles(store: TileStore, cells: readonly UnknownCell[], isNew: (tile: TileRef) => boolean): TileRef[] {
  const wanted = new Map<string, TileRef>();
  let limitM = NEAR_M;
  for (const cell of cells) {
    if (wanted.size > 0 && cell.nearestM > limitM) break;
    const tiles = store.catalogue.inCell(cell).filter(isNew);
    for (const tile of tiles) wanted.set(tile.key, tile);
    if (tiles.length > 0 && cell.nearestM > NEAR_M) limitM = Number.POSITIVE_INFINITY;
  }
  return [...wanted.values()];
}

/** Certain azimuths stay as they are: no further tile can raise them. */
async function rescanDoubtful(
  before: HorizonScan,
  scanAzimuths: (azimuthsDeg: readonly number[]) => Promise<HorizonScan>,
): Promise<HorizonScan> {
  const doubtful = before.certain.flatMap((certain, i) => (certain ? [] : [i]));
  if (doubtful.length === 0) return before;
  const again = await scanAzimuths(doubtful.map((i) => before.azimuthsDeg[i] as number));
  const merge = <T>(old: readonly T[], fresh: readonly T[]): T[] => {
    const merged = [...old];
    doubtful.forEach((index, i) => {
      merged[index] = fresh[i] as T;
    });
    return merged;
  };
  return {
    ...before,
    altitudesDeg: merge(before.altitudesDeg, again.altitudesDeg),
    distancesM: merge(before.distancesM, again.distancesM),
    reachesM: merge(before.reachesM, again.reachesM),
    certain: merge(before.certain, again.certain),
    unknownCells: again.unknownCells.map((cell) => ({
      ...cell,
      azimuthIndices: cell.azimuthIndices.map((i) => doubtful[i] as number),
    })),
  };
}
