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

/** What was seen in one direction after another, a column for each quantity: no object for each of thousands of azimuths. */
export class Sweep {
  readonly azimuthsDeg: number[] = [];
  readonly altitudesDeg: number[] = [];
  readonly distancesM: number[] = [];
  readonly reachesM: number[] = [];
  readonly certain: boolean[] = [];
  readonly #scanner: HorizonScanner;
  readonly #found: { -readonly [K in keyof ScannedAzimuth]: ScannedAzimuth[K] };
  /** Latitude, longitude and distance of the unknown cells that the ray at hand crosses, and how many numbers of them there are. */
  readonly #crossed: number[] = [];
  #count = 0;
  readonly #onUnknownCell = (latitude: number, longitude: number, fromM: number): void => {
    this.#crossed[this.#count] = latitude;
    this.#crossed[this.#count + 1] = longitude;
    this.#crossed[this.#count + 2] = fromM;
    this.#count += 3;
  };
  /** Place, latitude, longitude and distance of those that could raise a skyline, one after another. */
  readonly #unknown: number[] = [];

  constructor(scanner: HorizonScanner) {
    this.#scanner = scanner;
    this.#found = { altitudeDeg: 0, distanceM: 0, reachM: 0, certain: false };
  }

  /** Looks along an azimuth [deg]; returns its place in the columns. */
  look(azimuthDeg: number): number {
    const scanner = this.#scanner;
    const found = this.#found;
    this.#count = 0;
    scanner.lookInto(found, azimuthDeg, this.#onUnknownCell);
    const place = this.azimuthsDeg.length;
    this.azimuthsDeg.push(azimuthDeg);
    this.altitudesDeg.push(found.altitudeDeg);
    this.distancesM.push(found.distanceM);
    this.reachesM.push(found.reachM);
    this.certain.push(found.certain);
    const crossed = this.#crossed;
    for (let i = 0; i < this.#count && !found.certain; i += 3) {
      const fromM = crossed[i + 2] as number;
      if (scanner.couldRaise(found, fromM)) {
        this.#unknown.push(place, crossed[i] as number, crossed[i + 1] as number, fromM);
      }
    }
    return place;
  }

  /**
   * The unknown cells, nearest first.
   *
   * @param order places of those that count, in the order of their azimuths; default all, as they were looked along
   */
  unknownCells(order?: readonly number[]): UnknownCell[] {
    const indices = Int32Array.from(this.azimuthsDeg, (_, place) => (order === undefined ? place : -1));
    order?.forEach((place, index) => {
      indices[place] = index;
    });
    const cells = new Map<
      number,
      { latitude: number; longitude: number; nearestM: number; azimuthIndices: number[] }
    >();
    const unknown = this.#unknown;
    for (let i = 0; i < unknown.length; i += 4) {
      const index = indices[unknown[i] as number] as number;
      if (index < 0) continue;
      const latitude = unknown[i + 1] as number;
      const longitude = unknown[i + 2] as number;
      const fromM = unknown[i + 3] as number;
      const key = (latitude + 90) * 360 + longitude + 180;
      const cell = cells.get(key);
      if (cell === undefined) cells.set(key, { latitude, longitude, nearestM: fromM, azimuthIndices: [index] });
      else {
        if (fromM < cell.nearestM) cell.nearestM = fromM;
        if (cell.azimuthIndices[cell.azimuthIndices.length - 1] !== index) cell.azimuthIndices.push(index);
      }
    }
    if (order !== undefined) for (const { azimuthIndices } of cells.values()) azimuthIndices.sort((a, b) => a - b);
    return [...cells.values()].sort((a, b) => a.nearestM - b.nearestM);
  }
}
