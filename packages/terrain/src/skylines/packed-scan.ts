import type { HorizonScan } from "@fieldstop/core/horizon";

/**
 * A scan as threads pass it to one another. A list of numbers is received as an object for each number, which the collector then moves one by one for as
 * long as the skyline is kept; a typed array is received as one block.
 */
export interface PackedScan
  extends Omit<HorizonScan, "azimuthsDeg" | "altitudesDeg" | "distancesM" | "reachesM" | "certain"> {
  readonly azimuthsDeg: Float64Array;
  readonly altitudesDeg: Float64Array;
  readonly distancesM: Float64Array;
  readonly reachesM: Float64Array;
  /** 1 where certain, else 0. */
  readonly certain: Uint8Array;
}

/** Packed for another thread. */
export function packedScan(scan: HorizonScan): PackedScan {
  return {
    ...scan,
    azimuthsDeg: new Float64Array(scan.azimuthsDeg),
    altitudesDeg: new Float64Array(scan.altitudesDeg),
    distancesM: new Float64Array(scan.distancesM),
    reachesM: new Float64Array(scan.reachesM),
    certain: Uint8Array.from(scan.certain, Number),
  };
}

/** The scan that was packed. */
export function openScan(packed: PackedScan): HorizonScan {
  return {
    ...packed,
    azimuthsDeg: numbersIn(packed.azimuthsDeg),
    altitudesDeg: numbersIn(packed.altitudesDeg),
    distancesM: numbersIn(packed.distancesM),
    reachesM: numbersIn(packed.reachesM),
    certain: flagsIn(packed.certain),
  };
}

function flagsIn(column: Uint8Array): boolean[] {
  const flags: boolean[] = [];
  for (let i = 0; i < column.length; i++) flags.push(column[i] === 1);
  return flags;
}

/** By a loop of their own: an engine then keeps the list as plain numbers. */
export function numbersIn(column: Float64Array): number[] {
  const numbers: number[] = [];
  for (let i = 0; i < column.length; i++) numbers.push(column[i] as number);
  return numbers;
}
