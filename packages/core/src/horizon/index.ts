/**
 * Horizon: the skyline from elevation grids, points or a CSV file.
 * @module
 */
export { flatHorizon } from "./flat";
export type { UnknownCellListener } from "./gap";
export {
  ElevationGrid,
  type ElevationGridDetails,
  type ElevationSamples,
  GROUND_BLOCK_SHIFT,
  type GroundBlocks,
} from "./grid";
export { type MaximumPyramid, PYRAMID_SHIFTS, type PyramidLayout, pyramidLayout } from "./maximum-pyramid";
export { type HorizonProfile, horizonAltitudeDeg } from "./profile";
export { horizonProfileFromCsv, horizonProfileToCsv } from "./profile-csv";
export { type HorizonPoint, horizonProfileFromPoints, MAX_HORIZON_POINTS } from "./profile-from-points";
export type { Refinement } from "./refine-azimuths";
export { compassAzimuthsDeg, type HorizonScan, type ScanOptions, scanHorizon } from "./scan";
export {
  HorizonScanner,
  LEAST_EYE_HEIGHT_M,
  REFRACTION_COEFFICIENT,
  type ScannedAzimuth,
  type ScannerOptions,
  type ScanViewpoint,
} from "./scanner";
export { skyViewFactor } from "./sky-view";
export type { UnknownCell } from "./sweep";
