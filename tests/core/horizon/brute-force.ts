import type { ElevationGrid } from "@fieldstop/core/horizon";
import { degreesOfSlope, EFFECTIVE_RADIUS_M, slopeTo, WGS84 } from "./grids";

/** The skyline along one azimuth, as brute force finds it. */
export interface BruteAzimuth {
  readonly altitudeDeg: number;
  readonly distanceM: number;
}

/** Exact geodesic points are this far apart [m]; straight lines between them miss the geodesic by less than 0.1 mm below 70° of latitude. */
const STEP_M = 40;

/**
 * The skyline of grids, without any of the shortcuts of the scan: exact geodesic points, every patch between four nodes that the line
 * crosses, and in each the ends and the stationary point of its quadratic. Where two grids know a patch the first counts. Ends where
 * the data does; knows no sea.
 */
export function bruteForce(
  grids: readonly ElevationGrid[],
  latitude: number,
  longitude: number,
  eyeM: number,
  azimuth: number,
  radiusM: number,
): BruteAzimuth {
  const line = WGS84.DirectLine(latitude, longitude, azimuth, radiusM);
  let steepest = Number.NEGATIVE_INFINITY;
  let distanceM = Number.NaN;
  const look = (slope: number, d: number): void => {
    if (!(slope > steepest)) return;
    steepest = slope;
    distanceM = d;
  };
  let here = line.Position(0);
  for (let from = 0; from < radiusM; from += STEP_M) {
    const to = Math.min(radiusM, from + STEP_M);
    const there = line.Position(to);
    const lat0 = here.lat2 as number;
    const lon0 = here.lon2 as number;
    const dLat = (there.lat2 as number) - lat0;
    const dLon = wrapped((there.lon2 as number) - lon0);
    const cuts = [0, 1];
    for (const grid of grids) {
      const column = columnOf(grid, lon0);
      addCuts(cuts, column, column + dLon / grid.lonStepDeg);
      const row = (grid.northDeg - lat0) / grid.latStepDeg;
      addCuts(cuts, row, row - dLat / grid.latStepDeg);
    }
    cuts.sort((a, b) => a - b);
    for (let i = 1; i < cuts.length; i++) {
      const t0 = cuts[i - 1] as number;
      const t1 = cuts[i] as number;
      if (t1 - t0 < 1e-12) continue;
      const at = (t: number) =>
        heightOf(grids, lat0 + dLat * t, lon0 + dLon * t, (t0 + t1) / 2, lat0, lon0, dLat, dLon);
      const d0 = from + t0 * (to - from);
      const d1 = from + t1 * (to - from);
      const z0 = at(t0);
      const z1 = at(t1);
      const zm = at((t0 + t1) / 2);
      if (z0 === null || z1 === null || zm === null) continue;
      if (d0 > 0) look(slopeTo(z0, eyeM, d0), d0);
      look(slopeTo(z1, eyeM, d1), d1);
      // z(x) = z0 + q x + s x² along the patch, x in metres from its entry
      const width = d1 - d0;
      const s = (2 * (z0 + z1) - 4 * zm) / (width * width);
      const q = (z1 - z0) / width - s * width;
      const a = z0 - q * d0 + s * d0 * d0 - eyeM;
      const c = s - 0.5 / EFFECTIVE_RADIUS_M;
      const peak = Math.sqrt(a / c);
      if (peak > d0 && peak < d1) {
        const x = peak - d0;
        look(slopeTo(z0 + q * x + s * x * x, eyeM, peak), peak);
      }
    }
    here = there;
  }
  return { altitudeDeg: degreesOfSlope(steepest), distanceM };
}

const wrapped = (deg: number): number => (deg > 180 ? deg - 360 : deg < -180 ? deg + 360 : deg);

/** Column of a longitude, taken the way round that lands in the grid, if one does. */
function columnOf(grid: ElevationGrid, longitude: number): number {
  const middle = (grid.westDeg + grid.eastDeg) / 2;
  return (middle + wrapped((((longitude - middle) % 360) + 360) % 360) - grid.westDeg) / grid.lonStepDeg;
}

function addCuts(cuts: number[], a: number, b: number): void {
  for (let edge = Math.ceil(Math.min(a, b)); edge <= Math.max(a, b); edge++) {
    if (a !== b) cuts.push((edge - a) / (b - a));
  }
}

/** Height of the first grid that knows the patch under the middle of a part of the line: one patch from end to end. */
function heightOf(
  grids: readonly ElevationGrid[],
  lat: number,
  lon: number,
  middle: number,
  lat0: number,
  lon0: number,
  dLat: number,
  dLon: number,
): number | null {
  for (const grid of grids) {
    const column = columnOf(grid, lon0 + dLon * middle);
    const row = (grid.northDeg - (lat0 + dLat * middle)) / grid.latStepDeg;
    const slop = 1e-7;
    if (column < -slop || row < -slop || column > grid.columns - 1 + slop || row > grid.rows - 1 + slop) continue;
    const i = Math.max(0, Math.min(grid.columns - 2, Math.floor(column)));
    const j = Math.max(0, Math.min(grid.rows - 2, Math.floor(row)));
    const corner = (r: number, c: number): number => {
      const z = grid.samples[r * grid.columns + c] as number;
      return z === grid.voidValue ? Number.NaN : z;
    };
    const u = columnOf(grid, lon) - i;
    const v = (grid.northDeg - lat) / grid.latStepDeg - j;
    const top = corner(j, i) * (1 - u) + corner(j, i + 1) * u;
    const bottom = corner(j + 1, i) * (1 - u) + corner(j + 1, i + 1) * u;
    const height = top * (1 - v) + bottom * v;
    if (!Number.isNaN(height)) return height;
  }
  return null;
}
