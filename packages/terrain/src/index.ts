export { readHgt } from "./hgt";
export {
  createTerrain,
  type MissingTile,
  type Terrain,
  type TerrainHorizon,
  type TerrainOptions,
  type TerrainSettings,
  type TerrainViewpoint,
} from "./terrain";
export { TileError } from "./tile-error";
