export type { Position, TideSource, TideStation, TideStationNearby } from "./tide-source";
export { tideSourceOf } from "./tide-station-at";
export { type TidesAsked, tidesAt } from "./tides-at";
