export type { ByteStore } from "./byte-store";
export { createTerrain, type TerrainSettings } from "./create-terrain";
export { readHgt } from "./hgt";
export type { HighestGround } from "./highest-near";
export type { HorizonQuestion } from "./horizon-question";
export type { SharedGrid } from "./shared-grid";
export { untilAborted } from "./shared-result";
export type {
  MissingTile,
  SharedTerrain,
  Terrain,
  TerrainHorizon,
  TerrainOptions,
  TerrainViewpoint,
} from "./terrain";
export { type ScanJob, type TerrainWork, terrainJobs } from "./terrain-work";
export { TileError } from "./tile-error";
export type { TileRecipe } from "./tile-recipe";
