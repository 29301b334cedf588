import { HIGHEST_GROUND_M } from "./maximum-pyramid";
import type { PlacedGrid } from "./mosaic";

/** What is known of one azimuth so far. */
export interface Trace {
  /** The steepest line of sight to ground, as its tangent. */
  slope: number;
  /** Distance of that ground [m]; NaN while there is none. */
  distanceM: number;
  /** The grid it is in; null where it is the open sea. */
  grid: PlacedGrid | null;
  /** The steepest that unknown ground could be. */
  unknownSlope: number;
  /** Distance of the first unknown ground [m]. */
  unknownFromM: number;
  /** Level of the pyramid to go on at. */
  level: number;
  /** Stretches over patches with a void that could matter, as distances from and to [m], one after another. */
  voids: number[];
}

/** Nothing seen yet, and nothing unknown. */
export const newTrace = (): Trace => ({
  slope: Number.NEGATIVE_INFINITY,
  distanceM: Number.NaN,
  grid: null,
  unknownSlope: Number.NEGATIVE_INFINITY,
  unknownFromM: Number.POSITIVE_INFINITY,
  level: 0,
  voids: [],
});

/** Makes it as a new one. */
export function clearTrace(trace: Trace): void {
  trace.slope = Number.NEGATIVE_INFINITY;
  trace.distanceM = Number.NaN;
  trace.grid = null;
  trace.unknownSlope = Number.NEGATIVE_INFINITY;
  trace.unknownFromM = Number.POSITIVE_INFINITY;
  trace.level = 0;
  if (trace.voids.length > 0) trace.voids = [];
}

/** Where the eye is and how its lines of sight run. */
export interface Eye {
  /** Above the sea [m]. */
  readonly elevationM: number;
  /** Above the sea, or above a plain at the viewpoint's own height where that lies lower [m]. */
  readonly heightOverSeaM: number;
  /** Of the Earth, refraction in it [m]. */
  readonly effectiveRadiusM: number;
}

/** Notes that from a distance [m] on there is ground that nobody has measured, or that is not at hand. */
export function noteUnknown(trace: Trace, fromM: number, eyeM: number, halfCurvature: number): void {
  if (fromM < trace.unknownFromM) trace.unknownFromM = fromM;
  const steepest = fromM > 0 ? (HIGHEST_GROUND_M - eyeM) / fromM - fromM * halfCurvature : Number.POSITIVE_INFINITY;
  if (steepest > trace.unknownSlope) trace.unknownSlope = steepest;
}
