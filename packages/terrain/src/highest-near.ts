import type { ElevationGrid } from "@fieldstop/core/horizon";

/** The highest node of the ground near a place. */
export interface HighestGround {
  readonly latitude: number;
  readonly longitude: number;
  readonly groundElevationM: number;
  /** How far it lies from the place [m]. */
  readonly distanceM: number;
}

// IUGG mean radius of the Earth (Moritz 1980): over a kilometre the level sheet is within a metre of the geodesic
const METRES_PER_DEGREE = (6_371_008.8 * Math.PI) / 180;

/** Offsets in latitude and longitude [deg] that a distance [m] comes to; longitude no more than a turn beside the poles. */
export function degreesOf(withinM: number, latitude: number): { latitudeDeg: number; longitudeDeg: number } {
  const latitudeDeg = withinM / METRES_PER_DEGREE;
  return {
    latitudeDeg,
    longitudeDeg: Math.min(180, latitudeDeg / Math.max(1e-9, Math.cos((latitude * Math.PI) / 180))),
  };
}

/** The highest node within a distance [m] of a place, the first grid counting among equals; null where there is no ground. */
export function highestNear(
  grids: readonly ElevationGrid[],
  latitude: number,
  longitude: number,
  withinM: number,
): HighestGround | null {
  const cosine = Math.cos((latitude * Math.PI) / 180);
  const { latitudeDeg, longitudeDeg } = degreesOf(withinM, latitude);
  let highest: HighestGround | null = null;
  for (const grid of grids) {
    const turn = 360 * Math.round((longitude - (grid.westDeg + grid.eastDeg) / 2) / 360);
    const column = (longitude - turn - grid.westDeg) / grid.lonStepDeg;
    const row = (grid.northDeg - latitude) / grid.latStepDeg;
    const wide = longitudeDeg / grid.lonStepDeg;
    const high = latitudeDeg / grid.latStepDeg;
    const lastColumn = Math.min(grid.columns - 1, Math.floor(column + wide));
    const lastRow = Math.min(grid.rows - 1, Math.floor(row + high));
    for (let j = Math.max(0, Math.ceil(row - high)); j <= lastRow; j++) {
      for (let i = Math.max(0, Math.ceil(column - wide)); i <= lastColumn; i++) {
        const groundElevationM = grid.elevationAt(i, j);
        if (groundElevationM === null || groundElevationM <= (highest?.groundElevationM ?? Number.NEGATIVE_INFINITY))
          continue;
        const east = (i - column) * grid.lonStepDeg * cosine;
        const distanceM = METRES_PER_DEGREE * Math.hypot(east, (j - row) * grid.latStepDeg);
        if (distanceM > withinM) continue;
        const there = grid.westDeg + i * grid.lonStepDeg + turn;
        highest = {
          latitude: grid.northDeg - j * grid.latStepDeg,
          longitude: there > 180 ? there - 360 : there < -180 ? there + 360 : there,
          groundElevationM,
          distanceM,
        };
      }
    }
  }
  return highest;
}
