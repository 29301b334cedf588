import { setImmediate } from "node:timers/promises";
import { ElevationGrid, type ElevationGridDetails, type ElevationSamples } from "@fieldstop/core/horizon";
import { PreparedBlocks, type PreparedFile } from "./prepared-blocks";

/** A grid in plain data, which threads can pass to one another: its heights and its maximum pyramid lie in shared memory. */
export interface SharedGrid extends Omit<ElevationGridDetails, "blocks"> {
  /** The file that its heights are read from as they are needed, where they are not all at hand. */
  readonly prepared?: PreparedFile | undefined;
}

/** Heights copied at one go: a millisecond or so, then others have their turn [B]. */
const BYTES_AT_A_TIME = 4_000_000;

/** A grid as plain data, its maximum pyramid with it where that was built. */
export function sharedGrid(grid: ElevationGrid, pyramid?: SharedGrid["pyramid"]): SharedGrid {
  const { samples, rows, columns, northDeg, westDeg, latStepDeg, lonStepDeg, voidValue, blocks } = grid;
  const prepared = blocks instanceof PreparedBlocks ? blocks.file : undefined;
  return { samples, rows, columns, northDeg, westDeg, latStepDeg, lonStepDeg, voidValue, pyramid, prepared };
}

/** The grid that plain data tells of. */
export function openGrid(details: SharedGrid): ElevationGrid {
  const { prepared, pyramid, ...grid } = details;
  if (prepared === undefined || pyramid === undefined) return new ElevationGrid({ ...grid, pyramid });
  return new ElevationGrid({ ...grid, pyramid, blocks: new PreparedBlocks(prepared, { ...grid, pyramid }) });
}

/** The same with its maximum pyramid. */
export function withPyramid(details: SharedGrid): SharedGrid {
  const grid = openGrid(details);
  return sharedGrid(grid, grid.pyramid);
}

/** The same heights in shared memory, copied there piece by piece where they are not yet. */
export async function inSharedMemory(samples: ElevationSamples): Promise<ElevationSamples> {
  if (samples.buffer instanceof SharedArrayBuffer) return samples;
  const room = new SharedArrayBuffer(samples.byteLength);
  const shared = samples instanceof Int16Array ? new Int16Array(room) : new Float32Array(room);
  const step = BYTES_AT_A_TIME / samples.BYTES_PER_ELEMENT;
  for (let from = 0; from < samples.length; from += step) {
    if (from > 0) await setImmediate();
    shared.set(samples.subarray(from, from + step), from);
  }
  return shared;
}
