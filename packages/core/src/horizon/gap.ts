import type { Chord } from "./chords";

/** Reports the degree cell (south-west corner) of a stretch for which no grid is at hand, and where the ray enters it [m]. */
export type UnknownCellListener = (latitude: number, longitude: number, fromM: number) => void;

/** A stretch of a ray over which no grid is at hand, and the degree cells that it crosses. */
export class Gap {
  /** Where it begins [m]; NaN while there is none. */
  fromM = Number.NaN;
  /** Latitude, longitude and distance of each cell, one after another; so many of the numbers are this gap's. */
  readonly #cells: number[] = [];
  #count = 0;
  readonly #latitude: number;
  readonly #longitude: number;

  /** @param latitude of the viewpoint [deg]; likewise the longitude */
  constructor(latitude: number, longitude: number) {
    this.#latitude = latitude;
    this.#longitude = longitude;
  }

  get isOpen(): boolean {
    return !Number.isNaN(this.fromM);
  }

  /** Ends it as if it had never been. */
  forget(): void {
    this.fromM = Number.NaN;
    this.#count = 0;
  }

  /** Ends it and reports its cells. */
  report(onUnknownCell: UnknownCellListener | undefined): void {
    const cells = this.#cells;
    for (let i = 0; onUnknownCell !== undefined && i < this.#count; i += 3) {
      onUnknownCell(cells[i] as number, cells[i + 1] as number, cells[i + 2] as number);
    }
    this.forget();
  }

  /** Notes the cells under a part, t0 to t1, of a chord. */
  noteCells(chord: Chord, t0: number, t1: number): void {
    const { east0, north0, east1, north1 } = chord;
    const longitude0 = this.#longitude + east0 + t0 * (east1 - east0);
    const latitude0 = this.#latitude + north0 + t0 * (north1 - north0);
    const longitude1 = this.#longitude + east0 + t1 * (east1 - east0);
    const latitude1 = this.#latitude + north0 + t1 * (north1 - north0);
    const span = chord.toM - chord.fromM;
    const fromM = chord.fromM + t0 * span;
    // mostly the whole stretch lies in one cell
    if (Math.floor(longitude0) === Math.floor(longitude1) && Math.floor(latitude0) === Math.floor(latitude1)) {
      this.#noteCell(latitude0, longitude0, fromM);
      return;
    }
    const lengthM = (t1 - t0) * span;
    const eastward = longitude1 - longitude0;
    const northward = latitude1 - latitude0;
    // the edges that it comes to next, as parts of it
    let longitudeEdge = eastward > 0 ? Math.floor(longitude0) + 1 : Math.ceil(longitude0) - 1;
    let latitudeEdge = northward > 0 ? Math.floor(latitude0) + 1 : Math.ceil(latitude0) - 1;
    for (let a = 0; a < 1; ) {
      const atLongitude = eastward === 0 ? 1 : (longitudeEdge - longitude0) / eastward;
      const atLatitude = northward === 0 ? 1 : (latitudeEdge - latitude0) / northward;
      const b = Math.min(1, atLongitude, atLatitude);
      if ((b - a) * lengthM >= 1e-3) {
        const middle = (a + b) / 2;
        this.#noteCell(latitude0 + middle * northward, longitude0 + middle * eastward, fromM + a * lengthM);
      }
      if (b === atLongitude) longitudeEdge += Math.sign(eastward);
      if (b === atLatitude) latitudeEdge += Math.sign(northward);
      a = b;
    }
  }

  #noteCell(latitudeDeg: number, longitudeDeg: number, fromM: number): void {
    const cells = this.#cells;
    // a pole belongs to the cells round it
    const latitude = Math.min(89, Math.floor(latitudeDeg));
    const turned = Math.floor(longitudeDeg);
    const longitude = turned >= 180 ? turned - 360 : turned < -180 ? turned + 360 : turned;
    const at = this.#count;
    if (at > 0 && cells[at - 3] === latitude && cells[at - 2] === longitude) return;
    cells[at] = latitude;
    cells[at + 1] = longitude;
    cells[at + 2] = fromM;
    this.#count = at + 3;
  }
}
