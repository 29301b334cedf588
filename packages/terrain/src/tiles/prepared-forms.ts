import type { ElevationGrid } from "@fieldstop/core/horizon";
import { REMOTE_AGE_MS } from "../remote/remote-age";
import type { TerrainWork } from "../terrain-work";
import type { DiskStore } from "./disk-store";
import { openPrepared, PREPARED_FORMAT, preparedBytes } from "./prepared-tile";
import { type PrepareInto, WORTH_PREPARING } from "./read-tile";
import { sharedGrid } from "./shared-grid";
import type { TileRef } from "./tile-ref";

/** A tile whose prepared form was damaged or gone so often is read whole from then on: the disk is not to be trusted, or too full. */
const MOST_FAULTS = 3;

/** Large tiles on disk, in a form that is read in parts. */
export class PreparedForms {
  readonly #disk: DiskStore;
  readonly #work: TerrainWork;
  /** How often the prepared form of a tile had to be made again. */
  readonly #faults = new Map<string, number>();

  constructor(disk: DiskStore, work: TerrainWork) {
    this.#disk = disk;
    this.#work = work;
  }

  /**
   * What the form of a tile is kept under; undefined where it is not to be.
   * @param over the version of all that the form is made from beside the tile itself
   */
  keyOf(key: string, { version }: TileRef, over = ""): string | undefined {
    if (version === undefined) return undefined;
    const preparedKey = `prepared ${PREPARED_FORMAT} ${key} ${version} ${over}`;
    return (this.#faults.get(preparedKey) ?? 0) < MOST_FAULTS ? preparedKey : undefined;
  }

  /** The tile by its form; null where there is none, or none that is young enough. */
  async open(preparedKey: string, { isRemote }: TileRef): Promise<ElevationGrid | null> {
    if (isRemote) {
      const keptAtMs = await this.#disk.keptAtMs(preparedKey);
      if (keptAtMs !== null && Date.now() - keptAtMs > REMOTE_AGE_MS) return null;
    }
    const path = await this.#disk.fileOf(preparedKey);
    if (path === null) return null;
    const grid = await openPrepared(preparedKey, path);
    if (grid === null) await this.#disk.delete(preparedKey);
    return grid;
  }

  /** Where a thread is to put the form of a tile that it reads. */
  into(preparedKey: string): PrepareInto {
    return { folder: this.#disk.folder, key: preparedKey, mostBytes: this.#disk.mostBytes };
  }

  /** A thread has put one there. */
  grew(bytes: number): Promise<void> {
    return this.#disk.grew(bytes);
  }

  /** A thread could not: told once. */
  warn(fault: string): void {
    this.#disk.warnOnce(fault);
  }

  /** Makes the form of a grid at hand, where it is worth one. */
  async make(preparedKey: string, tile: TileRef, grid: ElevationGrid): Promise<ElevationGrid | null> {
    if (grid.samples.byteLength < WORTH_PREPARING) return null;
    const job = { grid: sharedGrid(grid, grid.pyramid), folder: this.#disk.folder, key: preparedKey };
    await this.#disk.setBy(preparedBytes(grid), () => this.#work.prepareTile(job));
    return this.open(preparedKey, tile);
  }

  /** Drops a form that turned out to be damaged, or went when the cache was full. */
  async forget(preparedKey: string): Promise<void> {
    this.#faults.set(preparedKey, (this.#faults.get(preparedKey) ?? 0) + 1);
    await this.#disk.delete(preparedKey);
  }
}
