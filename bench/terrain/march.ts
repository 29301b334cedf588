import type { ElevationGrid } from "@fieldstop/core/horizon";
import geodesic from "geographiclib-geodesic";
import { heightAt } from "./grounds";

const EFFECTIVE_RADIUS_M = 6_371_008.8 / (1 - 0.13);

/** Apparent altitudes by marching each ray at a quarter of a cell; positions by interpolation between exact geodesic points a kilometre apart. */
export function march(
  grid: ElevationGrid,
  latitude: number,
  longitude: number,
  eyeHeightM: number,
  azimuthsDeg: readonly number[],
  radiusM: number,
): number[] {
  const { samples, columns } = grid;
  const column = (lon: number) => (lon - grid.westDeg) / grid.lonStepDeg;
  const row = (lat: number) => (grid.northDeg - lat) / grid.latStepDeg;
  const eyeM = (heightAt(grid, latitude, longitude) as number) + eyeHeightM;
  const pieceM = 1000;
  // 111,195 m to a degree on the mean sphere
  const cellM = 111_195 * grid.lonStepDeg * Math.cos((latitude * Math.PI) / 180);
  const perPiece = Math.ceil(pieceM / (cellM / 4));
  return azimuthsDeg.map((azimuth) => {
    const line = geodesic.Geodesic.WGS84.DirectLine(latitude, longitude, azimuth, radiusM);
    let best = Number.NEGATIVE_INFINITY;
    let c0 = column(longitude);
    let r0 = row(latitude);
    for (let from = 0; from < radiusM; from += pieceM) {
      const end = line.Position(from + pieceM);
      const c1 = column(end.lon2 as number);
      const r1 = row(end.lat2 as number);
      for (let i = 1; i <= perPiece; i++) {
        const t = i / perPiece;
        const c = c0 + (c1 - c0) * t;
        const r = r0 + (r1 - r0) * t;
        const ci = Math.floor(c);
        const ri = Math.floor(r);
        if (ci < 0 || ri < 0 || ci >= columns - 1 || ri >= grid.rows - 1) break;
        const at = ri * columns + ci;
        const u = c - ci;
        const v = r - ri;
        const top = (samples[at] as number) * (1 - u) + (samples[at + 1] as number) * u;
        const bottom = (samples[at + columns] as number) * (1 - u) + (samples[at + columns + 1] as number) * u;
        const d = from + t * pieceM;
        const slope = (top + (bottom - top) * v - eyeM) / d - d / (2 * EFFECTIVE_RADIUS_M);
        if (slope > best) best = slope;
      }
      c0 = c1;
      r0 = r1;
    }
    return (Math.atan(best) * 180) / Math.PI;
  });
}
