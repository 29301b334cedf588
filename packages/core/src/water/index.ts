/**
 * Water: tides as a curve.
 * @module
 */
export { type TideCurve, type TideExtreme, type TidePrediction, tideHeightAt, tideTrend } from "./tide";
export { tideCaution } from "./tide-caution";
export { alternatingExtremes } from "./tide-extremes";
export { type LightStretch, lightInTideWindow, type TideWindow, tideWindows } from "./tide-windows";
