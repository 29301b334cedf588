export type { HorizonInput } from "./horizon-input";
export type { PlaceInput } from "./place-input";
export { type PlaceTime, placeTime } from "./place-time";
export { isTileError, type ResolvedHorizon, resolveHorizon } from "./resolve-horizon";
export { type Skyline, skylineAt } from "./skyline-at";
