import { ElevationGrid } from "@fieldstop/core/horizon";
import geodesic from "geographiclib-geodesic";

export const WGS84 = geodesic.Geodesic.WGS84;

/** The effective radius of the Earth [m] for the default refraction. */
export const EFFECTIVE_RADIUS_M = 6_371_008.8 / (1 - 0.13);

export const degreesOfSlope = (slope: number): number => (Math.atan(slope) * 180) / Math.PI;

/** Apparent slope of a height at a distance, as seen from an eye above the sea. */
export const slopeTo = (heightM: number, eyeM: number, distanceM: number): number =>
  (heightM - eyeM) / distanceM - distanceM / (2 * EFFECTIVE_RADIUS_M);

export interface GridBounds {
  south: number;
  west: number;
  rows: number;
  columns: number;
  perDegree: number;
}

/** A grid whose heights are a function of latitude and longitude. */
export function gridOf(
  { south, west, rows, columns, perDegree }: GridBounds,
  heightM: (latitude: number, longitude: number, row: number, column: number) => number,
): ElevationGrid {
  const samples = new Float32Array(rows * columns);
  const northDeg = south + (rows - 1) / perDegree;
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      samples[row * columns + column] = heightM(northDeg - row / perDegree, west + column / perDegree, row, column);
    }
  }
  const step = 1 / perDegree;
  return new ElevationGrid({ samples, rows, columns, northDeg, westDeg: west, latStepDeg: step, lonStepDeg: step });
}

/** A generator of even noise in [0, 1), the same at each run (mulberry32). */
export function noise(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/** Rolling hills with detail at every scale, some below the sea's level cut off flat. */
export function hills(latitude: number, longitude: number): number {
  let height = 0;
  for (let octave = 0; octave < 6; octave++) {
    const frequency = 9 * 2 ** octave;
    height +=
      (700 / 2 ** octave) *
      Math.sin(latitude * frequency + octave) *
      Math.cos(longitude * frequency * 0.9 + 2 * octave);
  }
  return Math.max(0, height);
}

/** The exact geodesic's ground, for checking: bilinear height of the grid at an azimuth and distance from a place. */
export function heightAlong(grid: ElevationGrid, lat: number, lon: number, azimuth: number, distanceM: number) {
  const there = WGS84.Direct(lat, lon, azimuth, distanceM);
  const column = ((there.lon2 as number) - grid.westDeg) / grid.lonStepDeg;
  return grid.elevationAt(column, (grid.northDeg - (there.lat2 as number)) / grid.latStepDeg);
}
