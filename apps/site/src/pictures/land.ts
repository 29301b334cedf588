import type { Ridge } from "../evening/ridge";
import { ridgeAltitudeDeg } from "../evening/ridge";

export type Depth = "near" | "middle" | "far";

/** A stretch of skyline whose ground lies about as far away. */
export interface LandRun {
  readonly depth: Depth;
  readonly points: readonly { readonly azimuthDeg: number; readonly altitudeDeg: number }[];
}

/** Under it the skyline is the sea's. */
const LEAST_LAND_DEG = 0.02;
const NEAR_M = 1_200;
const FAR_M = 6_000;

/** The land of a skyline from one azimuth on, cut where it steps nearer or farther, so that far hills can be drawn paler. */
export function landRuns(ridge: Ridge, fromDeg: number, widthDeg: number, stepDeg = 0.25): LandRun[] {
  const runs: { depth: Depth; points: { azimuthDeg: number; altitudeDeg: number }[] }[] = [];
  let current: (typeof runs)[number] | undefined;
  for (let azimuthDeg = fromDeg; azimuthDeg <= fromDeg + widthDeg + 1e-9; azimuthDeg += stepDeg) {
    const altitudeDeg = ridgeAltitudeDeg(ridge, azimuthDeg);
    const point = { azimuthDeg, altitudeDeg: Math.max(0, altitudeDeg) };
    if (altitudeDeg < LEAST_LAND_DEG) {
      current?.points.push(point);
      current = undefined;
      continue;
    }
    const depth = depthOf(ridge, azimuthDeg);
    if (current?.depth !== depth) {
      // neighbours share the point between them, and the sea's edge is a point of its own
      current?.points.push(point);
      const start = current === undefined ? { azimuthDeg: azimuthDeg - stepDeg, altitudeDeg: 0 } : undefined;
      current = { depth, points: start === undefined ? [] : [start] };
      runs.push(current);
    }
    current.points.push(point);
  }
  return runs;
}

/** What makes the skyline in one direction: land and how far it lies, or the sea. */
export type Ground = Depth | "water";

export function groundAt(ridge: Ridge, azimuthDeg: number): Ground {
  return ridgeAltitudeDeg(ridge, azimuthDeg) < LEAST_LAND_DEG ? "water" : depthOf(ridge, azimuthDeg);
}

function depthOf({ azimuthsDeg, distancesM }: Ridge, azimuthDeg: number): Depth {
  const step = 360 / azimuthsDeg.length;
  const index = Math.round((((azimuthDeg % 360) + 360) % 360) / step) % azimuthsDeg.length;
  const distanceM = distancesM[index] ?? FAR_M;
  return distanceM < NEAR_M ? "near" : distanceM < FAR_M ? "middle" : "far";
}
