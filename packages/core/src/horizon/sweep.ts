import type { HorizonScanner, ScannedAzimuth } from "./scanner";

/** A degree cell, by its south-west corner, for which no grid was at hand, and which azimuths it leaves in the dark. */
export interface UnknownCell {
  readonly latitude: number;
  readonly longitude: number;
  /** Where the nearest ray enters it [m]. */
  readonly nearestM: number;
  /** Indices into `azimuthsDeg`. */
  readonly azimuthIndices: readonly number[];
}

/** What was seen in one direction, and the unknown cells that could raise it: latitude, longitude and distance of each [m]. */
export interface SweptAzimuth extends ScannedAzimuth {
  readonly azimuthDeg: number;
  readonly unknown: readonly number[];
}

const NONE: readonly number[] = [];

/** Looks along azimuths [deg] and keeps the unknown cells that matter. */
export function sweepOf(scanner: HorizonScanner): (azimuthDeg: number) => SweptAzimuth {
  const crossed: number[] = [];
  const onUnknownCell = (latitude: number, longitude: number, fromM: number): void => {
    crossed.push(latitude, longitude, fromM);
  };
  return (azimuthDeg) => {
    const found = scanner.at(azimuthDeg, onUnknownCell);
    const { altitudeDeg, distanceM, reachM, certain } = found;
    if (crossed.length === 0) return { azimuthDeg, altitudeDeg, distanceM, reachM, certain, unknown: NONE };
    const unknown: number[] = [];
    for (let i = 0; i < crossed.length && !certain; i += 3) {
      const fromM = crossed[i + 2] as number;
      if (scanner.couldRaise(found, fromM)) unknown.push(crossed[i] as number, crossed[i + 1] as number, fromM);
    }
    crossed.length = 0;
    return { azimuthDeg, altitudeDeg, distanceM, reachM, certain, unknown };
  };
}

/** The unknown cells of many azimuths, nearest first. */
export function unknownCellsOf(swept: readonly SweptAzimuth[]): UnknownCell[] {
  const cells = new Map<number, { latitude: number; longitude: number; nearestM: number; azimuthIndices: number[] }>();
  swept.forEach(({ unknown }, index) => {
    for (let i = 0; i < unknown.length; i += 3) {
      const latitude = unknown[i] as number;
      const longitude = unknown[i + 1] as number;
      const fromM = unknown[i + 2] as number;
      const key = (latitude + 90) * 360 + longitude + 180;
      const cell = cells.get(key);
      if (cell === undefined) cells.set(key, { latitude, longitude, nearestM: fromM, azimuthIndices: [index] });
      else {
        cell.nearestM = Math.min(cell.nearestM, fromM);
        if (cell.azimuthIndices[cell.azimuthIndices.length - 1] !== index) cell.azimuthIndices.push(index);
      }
    }
  });
  return [...cells.values()].sort((a, b) => a.nearestM - b.nearestM);
}
