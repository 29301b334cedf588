import { ElevationGrid } from "@fieldstop/core/horizon";
import { LRUCache } from "lru-cache";
import { REMOTE_AGE_MS } from "../remote/remote-age";
import type { TerrainWork } from "../terrain-work";
import { fillVoids } from "./fill-voids";
import { isPreparedFault, PreparedBlocks } from "./prepared-blocks";
import type { PreparedForms } from "./prepared-forms";
import { openGrid } from "./shared-grid";
import type { TileCatalogue } from "./tile-catalogue";
import { TileError } from "./tile-error";
import type { TileReading, TileRecipe } from "./tile-recipe";
import type { TileRef } from "./tile-ref";

/** Ends the key under which a tile is kept with its voids filled. */
const FILLED = " filled";

/** What a grid takes in memory [B]: a fifteenth more for the maximum pyramid. */
const bytesOf = ({ blocks, samples }: ElevationGrid): number =>
  blocks instanceof PreparedBlocks ? blocks.bytesAtHand : Math.ceil(samples.byteLength * 1.07);

/** Heights of tiles, loaded on demand; the least recently used are dropped when memory is full. */
export class TileStore {
  readonly catalogue: TileCatalogue;
  readonly #grids: LRUCache<string, ElevationGrid, TileRef>;
  /** Tiles with voids that a tile which could not be had might have filled. */
  readonly #halfFilled = new Set<string>();
  readonly #work: TerrainWork;
  readonly #prepared: PreparedForms | undefined;

  /**
   * @param catalogue which tiles there are
   * @param maxBytes memory for heights [B]
   * @param work who reads tiles
   * @param prepared where large tiles are kept in a form that can be read in parts
   */
  constructor(
    catalogue: TileCatalogue,
    maxBytes: number,
    work: TerrainWork,
    prepared: PreparedForms | undefined = undefined,
  ) {
    this.catalogue = catalogue;
    this.#work = work;
    this.#prepared = prepared;
    this.#grids = new LRUCache({
      maxSize: maxBytes,
      ...(catalogue.isRemote && { ttl: REMOTE_AGE_MS }),
      sizeCalculation: bytesOf,
      // requests that meet share one load; a load that fails is not remembered
      fetchMethod: async (key, _stale, { context }) => {
        const grid = key.endsWith(FILLED) ? await this.#filledOnce(key, context) : await this.#read(key, context);
        if (grid === null) catalogue.markAbsent(key);
        return grid ?? undefined;
      },
    });
  }

  /** The given tiles that are already in memory, without those whose ground one of a preferred source may know better that is not. */
  loadedAmong(tiles: readonly TileRef[]): { tile: TileRef; grid: ElevationGrid }[] {
    const loaded = tiles.flatMap((tile) => {
      const grid = this.#grids.get(tile.key + FILLED) ?? this.#grids.get(tile.key);
      // one with voids is still to be filled
      const ready = grid !== undefined && (!grid.pyramid.hasVoids || this.#grids.has(tile.key + FILLED));
      return ready ? [{ tile, grid }] : [];
    });
    const there = new Set(loaded.map(({ tile }) => tile));
    const unread = tiles.filter((tile) => !there.has(tile));
    return loaded.filter(({ tile }) => !unread.some((other) => this.catalogue.isPreferredTo(other, tile)));
  }

  /**
   * The tile's grid, its voids filled from the tiles that come after it in order of preference; why there is none; or null where its
   * source turns out not to have it.
   */
  async load(tile: TileRef): Promise<ElevationGrid | TileError | null> {
    const raw = await this.#loadKept(tile.key, tile);
    if (!(raw instanceof ElevationGrid) || !raw.pyramid.hasVoids) return raw;
    const filled = await this.#loadKept(tile.key + FILLED, tile);
    if (!(filled instanceof ElevationGrid)) return raw;
    // a filler that could not be had may come back
    if (this.#halfFilled.has(tile.key)) this.#grids.delete(tile.key + FILLED);
    return filled;
  }

  /** Whether the tile has voids that another one might fill, which could not be had. */
  isHalfFilled({ key }: TileRef): boolean {
    return this.#halfFilled.has(key);
  }

  /** Counts anew what tiles that are read in parts take, now that more of them has been. */
  weighAgain(): void {
    // from the longest unused on, so that their order stays
    for (const key of [...this.#grids.rkeys()]) {
      const grid = this.#grids.peek(key);
      if (grid?.blocks === undefined) continue;
      const ttl = this.#grids.getRemainingTTL(key);
      this.#grids.delete(key);
      this.#grids.set(key, grid, Number.isFinite(ttl) ? { ttl } : {});
    }
  }

  /** Has the prepared form of a tile that turned out to be damaged, or went when the cache was full, made again. */
  async forgetPrepared(preparedKey: string): Promise<void> {
    for (const [key, grid] of this.#grids.entries()) {
      if (grid.blocks instanceof PreparedBlocks && grid.blocks.file.key === preparedKey) this.#grids.delete(key);
    }
    await this.#prepared?.forget(preparedKey);
  }

  async #loadKept(key: string, tile: TileRef): Promise<ElevationGrid | TileError | null> {
    if (this.catalogue.isAbsent(key)) return null;
    try {
      const grid = await this.#grids.fetch(key, { context: tile });
      if (grid === undefined && this.catalogue.isAbsent(key)) return null;
      return grid ?? new TileError(tile.name, "too large for the memory that tiles may take");
    } catch (error) {
      if (isPreparedFault(error)) {
        await this.forgetPrepared(error.file);
        return this.#loadKept(key, tile);
      }
      if (error instanceof TileError) return error;
      throw error;
    }
  }

  /** A tile as it comes: in the form that is read in parts, made now where it is not there yet, or whole. */
  async #read(key: string, tile: TileRef): Promise<ElevationGrid | null> {
    const prepared = this.#prepared;
    const preparedKey = prepared?.keyOf(key, tile);
    if (prepared === undefined || preparedKey === undefined) return tile.load((recipe) => this.#readWhole(recipe));
    const there = await prepared.open(preparedKey, tile);
    if (there !== null) return there;
    return tile.load(async (recipe) => {
      const outcome = await this.#work.readTile({ recipe, prepare: prepared.into(preparedKey) });
      if (outcome.kind === "grid") {
        if (outcome.fault !== undefined) prepared.warn(outcome.fault);
        return { kind: "grid", grid: openGrid(outcome.grid) };
      }
      if (outcome.kind !== "prepared") return outcome;
      await prepared.grew(outcome.bytes);
      const grid = await prepared.open(preparedKey, tile);
      // gone again already: the cache is fuller than it was
      return grid === null ? this.#readWhole(recipe) : { kind: "grid", grid };
    });
  }

  async #readWhole(recipe: TileRecipe): Promise<TileReading> {
    const outcome = await this.#work.readTile({ recipe });
    if (outcome.kind === "prepared") throw new Error("a tile was prepared that was to be read whole");
    return outcome.kind === "grid" ? { kind: "grid", grid: openGrid(outcome.grid) } : outcome;
  }

  /** The same with its voids filled. */
  async #filledOnce(key: string, tile: TileRef): Promise<ElevationGrid | null> {
    const prepared = this.#prepared;
    // what fills voids may be any other tile
    const preparedKey = prepared?.keyOf(key, tile, this.catalogue.version);
    if (prepared === undefined || preparedKey === undefined) return this.#filled(tile);
    const there = await prepared.open(preparedKey, tile);
    if (there !== null) return there;
    const grid = await this.#filled(tile);
    if (grid === null) return grid;
    // one that may be filled better next time is not kept; one that nothing could fill is prepared as it came
    if (this.isHalfFilled(tile) || this.catalogue.after(tile).length === 0) return grid;
    return (await prepared.make(preparedKey, tile, grid)) ?? grid;
  }

  async #filled(tile: TileRef): Promise<ElevationGrid | null> {
    const raw = await this.#loadKept(tile.key, tile);
    if (raw === null) return null;
    if (raw instanceof TileError) throw raw;
    let failed = false;
    const fillers = this.catalogue.after(tile).map((other) => ({
      box: other.box,
      load: async () => {
        const grid = await this.#loadKept(other.key, other);
        failed ||= grid instanceof TileError;
        return grid instanceof ElevationGrid ? grid : null;
      },
    }));
    const grid = await fillVoids(raw, fillers, this.#work);
    if (failed) this.#halfFilled.add(tile.key);
    else this.#halfFilled.delete(tile.key);
    return grid;
  }
}
