export type { AskedHorizon } from "./asked-horizon";
export type { AskedPlace } from "./asked-place";
export { type PlaceTime, placeTime } from "./place-time";
export { isTileError, type ResolvedHorizon, resolveHorizon } from "./resolve-horizon";
export { type Skyline, skylineAt } from "./skyline-at";
