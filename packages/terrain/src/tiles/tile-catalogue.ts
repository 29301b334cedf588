import { createHash } from "node:crypto";
import { LRUCache } from "lru-cache";
import { type Box, boxesMeet, cellName, cellsOf, type DegreeCell } from "./degree-cell";
import { TileError } from "./tile-error";
import type { TileIndex, TileRef, UnplacedTile } from "./tile-ref";

/** How long a tile that a source did not have is taken not to be there [ms]. */
const ABSENT_FOR_MS = 3_600_000;
/** Tiles of one source in order of preference: more than any source has. */
const RANK = 1e7;

/** Which tiles there are, by degree cell and in order of preference. */
export class TileCatalogue {
  readonly #indexes: readonly TileIndex[];
  readonly #byCell = new Map<string, TileRef[]>();
  readonly #order = new Map<string, number>();
  readonly #absent = new LRUCache<string, true>({ max: 100_000, ttl: ABSENT_FOR_MS });
  #unplaced: readonly { source: number; tile: UnplacedTile }[];
  /** The same, without their sources. */
  #unplacedTiles: readonly UnplacedTile[];
  #versionOf: { readonly unplaced: readonly UnplacedTile[]; readonly text: string } | undefined;
  #placing: Promise<boolean> | undefined;

  /** @param indexes what each source holds, in order of preference */
  constructor(indexes: readonly TileIndex[]) {
    this.#indexes = indexes;
    this.#unplaced = indexes.flatMap(({ unplaced }, source) => unplaced.map((tile) => ({ source, tile })));
    this.#unplacedTiles = this.#unplaced.map(({ tile }) => tile);
    indexes.forEach(({ tiles }, source) => {
      this.#add(source, tiles);
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

  /** Whether any source lies behind a network. */
  get isRemote(): boolean {
    return this.#indexes.some(({ isRemote }) => isRemote);
  }

  /** Whether any source cannot list its tiles, so that they are requested by name. */
  get isAskedByName(): boolean {
    return this.#indexes.some(({ tilesIn }) => tilesIn !== undefined);
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

  /** Remembers for a while that a source does not have a tile, by the key it was requested with. */
  markAbsent(key: string): void {
    this.#absent.set(key, true);
  }

  isAbsent(key: string): boolean {
    return this.#absent.has(key);
  }

  /** Tiles that share ground with a degree cell, without those that their source turned out not to have. */
  inCell(cell: DegreeCell): readonly TileRef[] {
    const listed = this.#byCell.get(cellName(cell)) ?? [];
    const asked = this.#indexes.flatMap(({ tilesIn }, source) => {
      const tiles = tilesIn?.(cell) ?? [];
      for (const tile of tiles) this.#order.set(tile.key, source * RANK);
      return tiles.filter((tile) => !this.isAbsent(tile.key));
    });
    return asked.length === 0 ? listed : [...listed, ...asked];
  }

  /** Tiles that share ground with the degree cells of a box, each once. */
  near(box: Box): TileRef[] {
    return [...new Map(cellsOf(box).flatMap((cell) => this.inCell(cell).map((tile) => [tile.key, tile]))).values()];
  }

  /** Tiles that hold a point, edges counted in, in order of preference. */
  at(latitude: number, longitude: number): TileRef[] {
    const slop = 1e-9;
    const box: Box = {
      west: longitude - 1e-5,
      east: longitude + 1e-5,
      south: latitude - 1e-5,
      north: latitude + 1e-5,
    };
    return this.inOrder(
      this.near(box).filter(({ box: { west, east, south, north } }) => {
        if (latitude < south - slop || latitude > north + slop) return false;
        return [-360, 0, 360].some((turn) => longitude + turn >= west - slop && longitude + turn <= east + slop);
      }),
    );
  }

  inOrder(tiles: readonly TileRef[]): TileRef[] {
    return [...tiles].sort((a, b) => (this.#order.get(a.key) ?? 0) - (this.#order.get(b.key) ?? 0));
  }

  /** Whether a tile shares ground with one of a source that comes later in order of preference. */
  isPreferredTo(tile: TileRef, other: TileRef): boolean {
    return this.#sourceOf(tile) < this.#sourceOf(other) && boxesMeet(tile.box, other.box);
  }

  #sourceOf({ key }: TileRef): number {
    return Math.floor((this.#order.get(key) ?? 0) / RANK);
  }

  /** Tiles that may know the same ground and come later in order of preference. */
  after(tile: TileRef): TileRef[] {
    const inOrder = this.inOrder(this.near(tile.box));
    return inOrder.slice(inOrder.findIndex(({ key }) => key === tile.key) + 1);
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
}
