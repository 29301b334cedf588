import { setImmediate } from "node:timers/promises";
import {
  type ElevationGrid,
  type HorizonScan,
  type ScannerOptions,
  type ScanViewpoint,
  scanHorizon,
  type UnknownCell,
} from "@fieldstop/core/horizon";

/** Azimuths scanned at one go: a millisecond or two, then others have their turn. */
const AT_A_TIME = 240;

/** The same as {@link scanHorizon}, in slices, so that a scan never holds up the event loop. */
export async function scanInTurns(
  grids: readonly ElevationGrid[],
  viewpoint: ScanViewpoint,
  options: ScannerOptions,
  azimuthsDeg: readonly number[],
): Promise<HorizonScan> {
  const slices: HorizonScan[] = [];
  for (let from = 0; from < azimuthsDeg.length; from += AT_A_TIME) {
    if (from > 0) await setImmediate();
    const slice = azimuthsDeg.slice(from, from + AT_A_TIME);
    slices.push(scanHorizon(grids, viewpoint, { ...options, azimuthsDeg: slice }));
  }
  const [first] = slices;
  if (first === undefined) throw new Error("a scan needs azimuths");
  return {
    ...first,
    azimuthsDeg: [...azimuthsDeg],
    altitudesDeg: slices.flatMap((slice) => slice.altitudesDeg),
    distancesM: slices.flatMap((slice) => slice.distancesM),
    reachesM: slices.flatMap((slice) => slice.reachesM),
    certain: slices.flatMap((slice) => slice.certain),
    unknownCells: joined(slices.map((slice) => slice.unknownCells)),
  };
}

function joined(slices: readonly (readonly UnknownCell[])[]): UnknownCell[] {
  const cells = new Map<string, UnknownCell>();
  slices.forEach((slice, i) => {
    for (const cell of slice) {
      const key = `${cell.latitude} ${cell.longitude}`;
      const before = cells.get(key);
      const indices = cell.azimuthIndices.map((index) => index + i * AT_A_TIME);
      cells.set(key, {
        ...cell,
        nearestM: Math.min(cell.nearestM, before?.nearestM ?? Number.POSITIVE_INFINITY),
        azimuthIndices: [...(before?.azimuthIndices ?? []), ...indices],
      });
    }
  });
  return [...cells.values()].sort((a, b) => a.nearestM - b.nearestM);
}
