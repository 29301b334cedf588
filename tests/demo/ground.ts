import { readFileSync } from "node:fs";
import { unzipSync } from "fflate";
import { atan2Deg, cosDeg, sinDeg } from "../../packages/core/src/angles";

export const NODES = 1201;
export const ELEVATION = new URL("../../demo/elevation/", import.meta.url);

export function readTile(name: string): DataView {
  const files = unzipSync(readFileSync(new URL(`${name}.hgt.zip`, ELEVATION)));
  const bytes = files[`${name}.hgt`];
  if (bytes === undefined || Object.keys(files).length !== 1) throw new Error(`${name}.hgt is not alone in its zip`);
  if (bytes.length !== 2 * NODES * NODES) throw new Error(`${name}.hgt has ${bytes.length} bytes`);
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
}

export interface Spot {
  readonly latitude: number;
  readonly longitude: number;
}

// Mean radius of the earth (Moritz 2000, Geodetic Reference System 1980) and the usual coefficient of terrestrial refraction.
const EARTH_RADIUS_M = 6371008.8;
const REFRACTION = 0.13;

/** The island's tile, read in the plainest way: none of it is shared with the code that makes it or the code that serves it. */
export class Ground {
  readonly #tile = readTile("N56W010");

  node(row: number, column: number): number {
    return this.#tile.getInt16(2 * (row * NODES + column), false);
  }

  /** Bilinear height [m]. */
  heightM({ latitude, longitude }: Spot): number {
    const y = (57 - latitude) * 1200;
    const x = (longitude + 10) * 1200;
    const row = Math.min(Math.floor(y), NODES - 2);
    const column = Math.min(Math.floor(x), NODES - 2);
    const v = y - row;
    const u = x - column;
    const north = this.node(row, column) * (1 - u) + this.node(row, column + 1) * u;
    const south = this.node(row + 1, column) * (1 - u) + this.node(row + 1, column + 1) * u;
    return north * (1 - v) + south * v;
  }

  /** Apparent altitude of the skyline [deg] from 1.6 m above a spot, by stepping out 15 km in steps of 10 m. */
  skylineDeg(from: Spot, azimuthDeg: number): number {
    const eyeM = this.heightM(from) + 1.6;
    let highest = -90;
    for (let distanceM = 20; distanceM <= 15_000; distanceM += 10) {
      const dropM = (distanceM * distanceM * (1 - REFRACTION)) / (2 * EARTH_RADIUS_M);
      const riseM = this.heightM(away(from, azimuthDeg, distanceM)) - dropM - eyeM;
      highest = Math.max(highest, atan2Deg(riseM, distanceM));
    }
    return highest;
  }
}

/** The spot `distanceM` away in a direction; flat across each step, which is out by a metre or two across the island. */
export function away({ latitude, longitude }: Spot, azimuthDeg: number, distanceM: number): Spot {
  const degreeM = (Math.PI / 180) * EARTH_RADIUS_M;
  const north = (distanceM * cosDeg(azimuthDeg)) / degreeM;
  const east = (distanceM * sinDeg(azimuthDeg)) / (degreeM * cosDeg(latitude + north / 2));
  return { latitude: latitude + north, longitude: longitude + east };
}
