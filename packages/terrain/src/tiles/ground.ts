import { requireInRange } from "@fieldstop/core";
import { ElevationGrid } from "@fieldstop/core/horizon";
import { TileError } from "./tile-error";
import type { TileRef } from "./tile-ref";
import type { TileStore } from "./tile-store";

/** A tile and its heights. */
export interface LoadedTile {
  readonly tile: TileRef;
  readonly grid: ElevationGrid;
}

export interface TilesHere {
  /** In order of preference. */
  readonly usable: readonly LoadedTile[];
  /** Why one of the others could not be had; it may come back, and go before those that are usable now. */
  readonly failure: TileError | undefined;
}

/**
 * The tiles that hold a point.
 * @throws TileError where there are tiles and none can be used
 */
export async function tilesAt(store: TileStore, latitude: number, longitude: number): Promise<TilesHere> {
  const tiles = store.catalogue.at(latitude, longitude);
  const loaded = await Promise.all(tiles.map(async (tile) => ({ tile, grid: await store.load(tile) })));
  const usable = loaded.flatMap(({ tile, grid }) => (grid instanceof ElevationGrid ? { tile, grid } : []));
  const failure = loaded.map(({ grid }) => grid).find((grid) => grid instanceof TileError);
  if (usable.length === 0 && failure !== undefined) throw failure;
  return { usable, failure };
}

/** Height of the ground by the first grid that knows it; null where none does. */
export function groundOf(tiles: readonly LoadedTile[], latitude: number, longitude: number): number | null {
  for (const { grid } of tiles) {
    const turned = [0, -360, 360]
      .map((turn) => longitude + turn)
      .find((x) => x >= grid.westDeg - 1e-9 && x <= grid.eastDeg + 1e-9);
    if (turned === undefined) continue;
    const column = (turned - grid.westDeg) / grid.lonStepDeg;
    const height = grid.elevationAt(column, (grid.northDeg - latitude) / grid.latStepDeg);
    if (height !== null) return height;
  }
  return null;
}

/** @throws DomainError for what is no place */
export function requirePlace(latitude: number, longitude: number): void {
  requireInRange("latitude", latitude, -90, 90, "deg");
  requireInRange("longitude", longitude, -180, 180, "deg");
}
