export type { Position, PredictedTide, TideSource, TideStation, TideStationNearby } from "./tide-source";
export { tideSourceOf } from "./tide-station-at";
export { type TidesAsked, tidesAt } from "./tides-at";
