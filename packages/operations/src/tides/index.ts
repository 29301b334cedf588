export type { Position, PredictedTide, TideSource, TideStation, TideStationNearby } from "./tide-source";
export { tideSourceOf } from "./tide-station-at";
export { type TidesRequest, tidesAt } from "./tides-at";
