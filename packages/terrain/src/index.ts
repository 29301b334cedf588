export type { ByteStore } from "./byte-store";
export { createTerrain, type TerrainSettings } from "./create-terrain";
export { readHgt } from "./hgt/hgt";
export type { HighestGround } from "./highest-near";
export { untilAborted } from "./shared-result";
export type { HorizonQuestion } from "./skylines/horizon-question";
export type { PackedScan } from "./skylines/packed-scan";
export type {
  ElevationSource,
  MissingTile,
  SharedTerrain,
  Terrain,
  TerrainHorizon,
  TerrainOptions,
  TerrainSources,
  TerrainViewpoint,
} from "./terrain";
export { type ScanJob, type TerrainWork, terrainJobs } from "./terrain-work";
export type { SharedGrid } from "./tiles/shared-grid";
export { TileError } from "./tiles/tile-error";
export type { TileRecipe } from "./tiles/tile-recipe";
