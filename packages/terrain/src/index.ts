export type { ByteStore } from "./byte-store";
export { readHgt } from "./hgt";
export type { HgtFile } from "./hgt-file";
export type { SharedGrid } from "./shared-grid";
export {
  createTerrain,
  type MissingTile,
  type Terrain,
  type TerrainHorizon,
  type TerrainOptions,
  type TerrainSettings,
  type TerrainViewpoint,
} from "./terrain";
export { type ScanJob, type TerrainWork, terrainJobs } from "./terrain-work";
export { TileError } from "./tile-error";
