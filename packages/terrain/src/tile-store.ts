import type { ElevationGrid } from "@fieldstop/core/horizon";
import { LRUCache } from "lru-cache";
import { type Box, cellName, cellsOf, type DegreeCell } from "./degree-cell";
import { TileError } from "./tile-error";
import type { TileRef } from "./tile-ref";

/** Tiles by degree cell, loaded when asked for, the least used forgotten when memory is full. */
export class TileStore {
  readonly #byCell = new Map<string, TileRef[]>();
  readonly #order = new Map<TileRef, number>();
  readonly #grids: LRUCache<string, ElevationGrid, TileRef>;

  /**
   * @param tiles in order of preference
   * @param maxBytes memory for heights [B]
   */
  constructor(tiles: readonly TileRef[], maxBytes: number) {
    tiles.forEach((tile, i) => {
      this.#order.set(tile, i);
      for (const cell of cellsOf(tile.box)) {
        const name = cellName(cell);
        const there = this.#byCell.get(name);
        if (there === undefined) this.#byCell.set(name, [tile]);
        else there.push(tile);
      }
    });
    this.#grids = new LRUCache({
      maxSize: maxBytes,
      // a fifteenth more for the maximum pyramid
      sizeCalculation: (grid) => Math.ceil(grid.samples.byteLength * 1.07),
      // requests that meet share one load; a load that fails is not remembered
      fetchMethod: async (_key, _stale, { context }) => {
        const grid = await context.load();
        // built here, each tile in its own turn of the event loop, rather than all in the first scan
        void grid.pyramid;
        return grid;
      },
    });
  }

  /** Tiles that share ground with a degree cell. */
  inCell(cell: DegreeCell): readonly TileRef[] {
    return this.#byCell.get(cellName(cell)) ?? [];
  }

  /** Tiles that hold a point, edges counted in. */
  at(latitude: number, longitude: number): TileRef[] {
    const slop = 1e-9;
    const near = new Set<TileRef>();
    const box: Box = {
      west: longitude - 1e-5,
      east: longitude + 1e-5,
      south: latitude - 1e-5,
      north: latitude + 1e-5,
    };
    for (const cell of cellsOf(box)) for (const tile of this.inCell(cell)) near.add(tile);
    return this.inOrder(
      [...near].filter(({ box: { west, east, south, north } }) => {
        if (latitude < south - slop || latitude > north + slop) return false;
        return [-360, 0, 360].some((turn) => longitude + turn >= west - slop && longitude + turn <= east + slop);
      }),
    );
  }

  /** Tiles at hand already that share ground with a box. */
  loadedIn(box: Box): { tile: TileRef; grid: ElevationGrid }[] {
    const tiles = new Set(cellsOf(box).flatMap((cell) => this.inCell(cell)));
    return [...tiles].flatMap((tile) => {
      const grid = this.#grids.get(tile.key);
      return grid === undefined ? [] : [{ tile, grid }];
    });
  }

  inOrder(tiles: readonly TileRef[]): TileRef[] {
    return [...tiles].sort((a, b) => (this.#order.get(a) ?? 0) - (this.#order.get(b) ?? 0));
  }

  /** The tile's grid, or why there is none. */
  async load(tile: TileRef): Promise<ElevationGrid | TileError> {
    try {
      const grid = await this.#grids.fetch(tile.key, { context: tile });
      return grid ?? new TileError(tile.name, "too large for the memory that tiles may take");
    } catch (error) {
      if (error instanceof TileError) return error;
      throw error;
    }
  }
}
