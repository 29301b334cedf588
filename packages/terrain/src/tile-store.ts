import { createHash } from "node:crypto";
import { ElevationGrid } from "@fieldstop/core/horizon";
import { LRUCache } from "lru-cache";
import { type Box, cellName, cellsOf, type DegreeCell } from "./degree-cell";
import type { DiskStore } from "./disk-store";
import { fillVoids } from "./fill-voids";
import { isPreparedFault, PreparedBlocks } from "./prepared-blocks";
import { openPrepared, PREPARED_FORMAT, preparedBytes } from "./prepared-tile";
import { inSharedMemory, openGrid, sharedGrid } from "./shared-grid";
import { type TerrainWork, terrainJobs } from "./terrain-work";
import { TileError } from "./tile-error";
import type { TileIndex, TileRef, UnplacedTile } from "./tile-ref";

/** How long a tile that a source did not have is taken not to be there [ms]. */
const ABSENT_FOR_MS = 3_600_000;
/** Ends the key under which a tile is kept with its voids filled. */
const FILLED = " filled";
/** Tiles of one source in order of preference: more than any source has. */
const RANK = 1e7;

/** Tiles of less are read whole: from their own files it takes as long [B]. */
const WORTH_PREPARING = 4_000_000;
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
      sizeCalculation: bytesOf,
      // requests that meet share one load; a load that fails is not remembered
      fetchMethod: async (key, _stale, { context }) => {
        const grid = await this.#preparedOr(key, context, () =>
          key.endsWith(FILLED) ? this.#filled(context) : this.#read(context),
        );
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

  /** A tile in the form that is read in parts, made now where it is not there yet; otherwise as it comes. */
  async #preparedOr(
    key: string,
    tile: TileRef,
    make: () => Promise<ElevationGrid | null>,
  ): Promise<ElevationGrid | null> {
    const disk = this.#disk;
    if (disk === undefined || tile.version === undefined) return make();
    const isFilled = key.endsWith(FILLED);
    // what fills voids may be any other tile
    const preparedKey = `prepared ${PREPARED_FORMAT} ${key} ${tile.version} ${isFilled ? this.version : ""}`;
    if ((this.#faults.get(preparedKey) ?? 0) >= MOST_FAULTS) return make();
    const there = await this.#openPrepared(disk, preparedKey);
    if (there !== null) return there;
    const grid = await make();
    if (grid === null || grid.blocks !== undefined || grid.samples.byteLength < WORTH_PREPARING) return grid;
    // it may be filled better next time
    if (isFilled && this.isHalfFilled(tile)) return grid;
    const job = { grid: sharedGrid(grid, grid.pyramid), folder: disk.folder, key: preparedKey };
    await disk.setBy(preparedBytes(grid), () => this.#work.prepareTile(job));
    return (await this.#openPrepared(disk, preparedKey)) ?? grid;
  }

  async #openPrepared(disk: DiskStore, key: string): Promise<ElevationGrid | null> {
    const path = await disk.fileOf(key);
    if (path === null) return null;
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
      this.#grids.delete(key);
      this.#grids.set(key, grid);
    }
  }

  /** The grid as it comes, with its maximum pyramid, for which the scan would have to wait. */
  async #read(tile: TileRef): Promise<ElevationGrid | null> {
    const grid = await tile.load(async (file) => openGrid(await this.#work.readHgt(file)));
    if (grid === null) return null;
    // what lies in shared memory already was read, and its pyramid built, by whoever does the work
    if (this.#work === terrainJobs || grid.samples.buffer instanceof SharedArrayBuffer) {
      void grid.pyramid;
      return grid;
    }
    const samples = await inSharedMemory(grid.samples);
    return openGrid(await this.#work.raisePyramid({ ...sharedGrid(grid), samples }));
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

  async #filled(tile: TileRef): Promise<ElevationGrid | null> {
    const raw = await this.#loadKept(tile.key, tile);
    if (raw === null) return null;
    if (raw instanceof TileError) throw raw;
    const near = new Map(cellsOf(tile.box).flatMap((cell) => this.inCell(cell).map((other) => [other.key, other])));
    const after = this.inOrder([...near.values()]);
    let failed = false;
    const fillers = after.slice(after.findIndex(({ key }) => key === tile.key) + 1).map((other) => ({
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
