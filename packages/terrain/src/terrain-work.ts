import { type ScanOptions, type ScanViewpoint, scanHorizon } from "@fieldstop/core/horizon";
import { numbersIn, type PackedScan, packedScan } from "./skylines/packed-scan";
import { type FillWork, fillFrom, hasVoidsWithin } from "./tiles/fill-voids";
import { type PrepareJob, prepareTile } from "./tiles/prepared-tile";
import { type ReadJob, type ReadOutcome, readTile } from "./tiles/read-tile";
import { openGrid, type SharedGrid } from "./tiles/shared-grid";

export { TileError } from "./tiles/tile-error";

/** A scan as plain data. */
export interface ScanJob {
  /** In order of preference. */
  readonly grids: readonly SharedGrid[];
  readonly viewpoint: ScanViewpoint;
  readonly options: Omit<ScanOptions, "azimuthsDeg">;
  /** Ascending within [0, 360). */
  readonly azimuthsDeg: Float64Array;
  /** Whether it goes on with work that was taken: then it is not to be refused however much else waits. */
  readonly goesOn: boolean;
}

/** What takes a horizon long: plain data in and out, so that other threads can do it. */
export interface TerrainWork extends FillWork {
  /** @throws where the signal is aborted, as soon as may be */
  scanHorizon(job: ScanJob, signal?: AbortSignal): Promise<PackedScan>;
  /** @throws TileError naming the file */
  readTile(job: ReadJob): Promise<ReadOutcome>;
  /** @throws Error where it cannot be written */
  prepareTile(job: PrepareJob): Promise<void>;
}

/** The work itself, done in the calling thread. */
export const terrainJobs: TerrainWork = {
  scanHorizon: async ({ grids, viewpoint, options, azimuthsDeg }, signal) => {
    signal?.throwIfAborted();
    return packedScan(scanHorizon(grids.map(openGrid), viewpoint, { azimuthsDeg: numbersIn(azimuthsDeg), ...options }));
  },
  readTile,
  prepareTile,
  hasVoidsWithin,
  fillFrom,
};
