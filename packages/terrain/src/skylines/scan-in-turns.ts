import { setImmediate } from "node:timers/promises";
import {
  type ElevationGrid,
  type HorizonScan,
  type ScanOptions,
  type ScanViewpoint,
  scanHorizonStepwise,
} from "@fieldstop/core/horizon";

/** Azimuths scanned at one go: a millisecond or two, then others have their turn. */
const AT_A_TIME = 240;

/**
 * The same as a scan at one go, in slices, so that it never holds up the event loop.
 * @throws the reason of the signal where it is aborted between two slices
 */
export async function scanInTurns(
  grids: readonly ElevationGrid[],
  viewpoint: ScanViewpoint,
  options: ScanOptions,
  signal?: AbortSignal,
): Promise<HorizonScan> {
  const scan = scanHorizonStepwise(grids, viewpoint, options);
  for (let steps = 1; ; steps++) {
    const step = scan.next();
    if (step.done) return step.value;
    if (steps % AT_A_TIME === 0) {
      await setImmediate();
      signal?.throwIfAborted();
    }
  }
}
