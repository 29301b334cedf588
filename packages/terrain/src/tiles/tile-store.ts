import { createHash } from "node:crypto";
import { ElevationGrid } from "@fieldstop/core/horizon";
import { LRUCache } from "lru-cache";
import { REMOTE_AGE_MS } from "../remote/remote-age";
import type { TerrainWork } from "../terrain-work";
import { type Box, cellName, cellsOf, type DegreeCell } from "./degree-cell";
import type { DiskStore } from "./disk-store";
import { fillVoids } from "./fill-voids";
import { isPreparedFault, PreparedBlocks } from "./prepared-blocks";
import { openPrepared, PREPARED_FORMAT, preparedBytes } from "./prepared-tile";
import { type PrepareInto, WORTH_PREPARING } from "./read-tile";
import { openGrid, sharedGrid } from "./shared-grid";
import { TileError } from "./tile-error";
import type { TileReading, TileRecipe } from "./tile-recipe";
import type { TileIndex, TileRef, UnplacedTile } from "./tile-ref";

/** How long a tile that a source did not have is taken not to be there [ms]. */
const ABSENT_FOR_MS = 3_600_000;
/** Ends the key under which a tile is kept with its voids filled. */
const FILLED = " filled";
/** Tiles of one source in order of preference: more than any source has. */
const RANK = 1e7;

/** A tile whose prepared form was damaged or gone so often is read whole from then on: the disk is not to be trusted, or too full. */
const MOST_FAULTS = 3;

/** What a grid takes in memory [B]: a fifteenth more for the maximum pyramid. */
const bytesOf = ({ blocks, samples }: ElevationGrid): number =>
  blocks instanceof PreparedBlocks ? blocks.bytesAtHand : Math.ceil(samples.byteLength * 1.07);

/** Tiles by degree cell, loaded when asked for, the least used forgotten when memory is full. */
export class TileStore {
  readonly #byCell = new Map<string, TileRef[]>();
  readonly #order = new Map<string, number>();
  readonly #grids: LRUCache<string, ElevationGrid, TileRef>;
  /** Tiles with voids that a tile which could not be had might have filled. */
  readonly #halfFilled = new Set<string>();
  readonly #absent = new LRUCache<string, true>({ max: 100_000, ttl: ABSENT_FOR_MS });
  readonly #work: TerrainWork;
  readonly #disk: DiskStore | undefined;
  /** How often the prepared form of a tile had to be made again. */
  readonly #faults = new Map<string, number>();
  readonly #indexes: readonly TileIndex[];
  #unplaced: readonly { source: number; tile: UnplacedTile }[];
  /** The same, without their sources. */
  #unplacedTiles: readonly UnplacedTile[];
  #versionOf: { readonly unplaced: readonly UnplacedTile[]; readonly text: string } | undefined;
  #placing: Promise<boolean> | undefined;

  /**
   * @param indexes what each source holds, in order of preference
   * @param maxBytes memory for heights [B]
   * @param work who reads tiles
   * @param disk where large tiles are kept in a form that can be read in parts
   */
  constructor(indexes: readonly TileIndex[], maxBytes: number, work: TerrainWork, disk: DiskStore | undefined) {
    this.#work = work;
    this.#disk = disk;
    this.#indexes = indexes;
    this.#unplaced = indexes.flatMap(({ unplaced }, source) => unplaced.map((tile) => ({ source, tile })));
    this.#unplacedTiles = this.#unplaced.map(({ tile }) => tile);
    indexes.forEach(({ tiles }, source) => {
      this.#add(source, tiles);
    });
    this.#grids = new LRUCache({
      maxSize: maxBytes,
      ...(indexes.some(({ isRemote }) => isRemote) && { ttl: REMOTE_AGE_MS }),
      sizeCalculation: bytesOf,
      // requests that meet share one load; a load that fails is not remembered
      fetchMethod: async (key, _stale, { context }) => {
        const grid = key.endsWith(FILLED) ? await this.#filledOnce(key, context) : await this.#read(key, context);
        if (grid === null) this.#absent.set(key, true);
        return grid ?? undefined;
      },
    });
  }

  /** Changes when a tile does. */
  get version(): string {
    if (this.#versionOf?.unplaced !== this.#unplacedTiles) {
      const known = [this.#indexes.map(({ fingerprint }) => fingerprint), this.#unplacedTiles.map(({ key }) => key)];
      const text = createHash("sha256").update(JSON.stringify(known)).digest("hex").slice(0, 16);
      this.#versionOf = { unplaced: this.#unplacedTiles, text };
    }
    return this.#versionOf.text;
  }

  /** What the form of a tile that is read in parts is kept under; undefined where it is not to be. */
  #preparedKey(key: string, tile: TileRef): string | undefined {
    if (this.#disk === undefined || tile.version === undefined) return undefined;
    // what fills voids may be any other tile
    const preparedKey = `prepared ${PREPARED_FORMAT} ${key} ${tile.version} ${key.endsWith(FILLED) ? this.version : ""}`;
    return (this.#faults.get(preparedKey) ?? 0) < MOST_FAULTS ? preparedKey : undefined;
  }

  /** A tile as it comes: in the form that is read in parts, made now where it is not there yet, or whole. */
  async #read(key: string, tile: TileRef): Promise<ElevationGrid | null> {
    const disk = this.#disk;
    const preparedKey = this.#preparedKey(key, tile);
    const there = await this.#openPrepared(preparedKey, tile);
    if (there !== null) return there;
    const into = disk && preparedKey && { folder: disk.folder, key: preparedKey, mostBytes: disk.mostBytes };
    const read = async (prepare: PrepareInto | undefined, recipe: TileRecipe): Promise<TileReading> => {
      const outcome = await this.#work.readTile({ recipe, prepare });
      if (outcome.kind === "grid") {
        if (outcome.fault !== undefined) disk?.warnOnce(outcome.fault);
        return { kind: "grid", grid: openGrid(outcome.grid) };
      }
      if (outcome.kind !== "prepared") return outcome;
      await disk?.grew(outcome.bytes);
      const grid = await this.#openPrepared(preparedKey, tile);
      // gone again already: the cache is fuller than it was
      return grid === null ? read(undefined, recipe) : { kind: "grid", grid };
    };
    return tile.load((recipe) => read(into || undefined, recipe));
  }

  /** The same with its voids filled. */
  async #filledOnce(key: string, tile: TileRef): Promise<ElevationGrid | null> {
    const disk = this.#disk;
    const preparedKey = this.#preparedKey(key, tile);
    const there = await this.#openPrepared(preparedKey, tile);
    if (there !== null) return there;
    const grid = await this.#filled(tile);
    if (grid === null || disk === undefined || preparedKey === undefined) return grid;
    // one that may be filled better next time is not kept; one that nothing could fill is prepared as it came
    if (this.isHalfFilled(tile) || this.#after(tile).length === 0) return grid;
    if (grid.samples.byteLength < WORTH_PREPARING) return grid;
    const job = { grid: sharedGrid(grid, grid.pyramid), folder: disk.folder, key: preparedKey };
    await disk.setBy(preparedBytes(grid), () => this.#work.prepareTile(job));
    return (await this.#openPrepared(preparedKey, tile)) ?? grid;
  }

  async #openPrepared(key: string | undefined, { isRemote }: TileRef): Promise<ElevationGrid | null> {
    const disk = this.#disk;
    if (isRemote && key !== undefined) {
      const keptAtMs = (await disk?.keptAtMs(key)) ?? null;
      if (keptAtMs !== null && Date.now() - keptAtMs > REMOTE_AGE_MS) return null;
    }
    const path = key === undefined ? null : ((await disk?.fileOf(key)) ?? null);
    if (disk === undefined || key === undefined || path === null) return null;
    const grid = await openPrepared(key, path);
    if (grid === null) await disk.delete(key);
    return grid;
  }

  /** Has the prepared form of a tile that turned out to be damaged, or went when the cache was full, made again. */
  async forgetPrepared(preparedKey: string): Promise<void> {
    this.#faults.set(preparedKey, (this.#faults.get(preparedKey) ?? 0) + 1);
    for (const [key, grid] of this.#grids.entries()) {
      if (grid.blocks instanceof PreparedBlocks && grid.blocks.file.key === preparedKey) this.#grids.delete(key);
    }
    await this.#disk?.delete(preparedKey);
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

  #add(source: number, tiles: readonly TileRef[]): void {
    tiles.forEach((tile, i) => {
      this.#order.set(tile.key, source * RANK + i);
      for (const cell of cellsOf(tile.box)) {
        const name = cellName(cell);
        const there = this.#byCell.get(name);
        if (there === undefined) this.#byCell.set(name, [tile]);
        else there.push(tile);
      }
    });
  }

  /** Files whose place is not known. */
  get unplaced(): readonly UnplacedTile[] {
    return this.#unplacedTiles;
  }

  /** Looks again for the place of files that have none; whether any was found. Requests that meet share one look. */
  placeAgain(): Promise<boolean> {
    this.#placing ??= this.#place().finally(() => {
      this.#placing = undefined;
    });
    return this.#placing;
  }

  async #place(): Promise<boolean> {
    const before = this.#unplaced;
    const after = await Promise.all(
      before.map(async ({ source, tile }) => {
        if (tile.place === undefined) return { source, tile };
        try {
          this.#add(source, await tile.place());
          return null;
        } catch (error) {
          if (!(error instanceof TileError)) throw error;
          return { source, tile: { ...tile, reason: error.reason } };
        }
      }),
    );
    this.#unplaced = after.filter((entry) => entry !== null);
    this.#unplacedTiles = this.#unplaced.map(({ tile }) => tile);
    return this.#unplaced.length < before.length;
  }

  /** Tiles that share ground with a degree cell, without those that their source turned out not to have. */
  inCell(cell: DegreeCell): readonly TileRef[] {
    const listed = this.#byCell.get(cellName(cell)) ?? [];
    const asked = this.#indexes.flatMap(({ tilesIn }, source) => {
      const tiles = tilesIn?.(cell) ?? [];
      for (const tile of tiles) this.#order.set(tile.key, source * RANK);
      return tiles.filter((tile) => !this.#absent.has(tile.key));
    });
    return asked.length === 0 ? listed : [...listed, ...asked];
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
    const tiles = new Map(cellsOf(box).flatMap((cell) => this.inCell(cell).map((tile) => [tile.key, tile])));
    return [...tiles.values()].flatMap((tile) => {
      const grid = this.#grids.get(tile.key + FILLED) ?? this.#grids.get(tile.key);
      // one with voids is still to be filled
      const ready = grid !== undefined && (!grid.pyramid.hasVoids || this.#grids.has(tile.key + FILLED));
      return ready ? [{ tile, grid }] : [];
    });
  }

  inOrder(tiles: readonly TileRef[]): TileRef[] {
    return [...tiles].sort((a, b) => (this.#order.get(a.key) ?? 0) - (this.#order.get(b.key) ?? 0));
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

  async #loadKept(key: string, tile: TileRef): Promise<ElevationGrid | TileError | null> {
    if (this.#absent.has(key)) return null;
    try {
      const grid = await this.#grids.fetch(key, { context: tile });
      if (grid === undefined && this.#absent.has(key)) return null;
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

  /** Tiles that may know the same ground and come later in order of preference. */
  #after(tile: TileRef): TileRef[] {
    const near = new Map(cellsOf(tile.box).flatMap((cell) => this.inCell(cell).map((other) => [other.key, other])));
    const inOrder = this.inOrder([...near.values()]);
    return inOrder.slice(inOrder.findIndex(({ key }) => key === tile.key) + 1);
  }

  async #filled(tile: TileRef): Promise<ElevationGrid | null> {
    const raw = await this.#loadKept(tile.key, tile);
    if (raw === null) return null;
    if (raw instanceof TileError) throw raw;
    let failed = false;
    const fillers = this.#after(tile).map((other) => ({
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
