/**
 * Light: direct sun over a skyline, golden and blue hour, levels of light over time, alignments.
 * @module
 */
export {
  type AlignedBody,
  type AlignmentRequest,
  type Alignments,
  type AlignmentTarget,
  findAlignments,
  type SkyAlignment,
  type TouchingLimb,
} from "./alignments";
export {
  type DirectLight,
  type DirectLightCause,
  type DirectLightInterval,
  type DirectLightRequest,
  directLight,
  type Facing,
  incidenceCosine,
} from "./direct-light";
export {
  type DirectionContrast,
  type SceneEv100,
  type SceneLevels,
  type SceneLevelsRequest,
  sceneLevels,
  skyContrastByDirection,
} from "./levels";
export type { SceneCamera } from "./scene-camera";
export { type SceneLight, type SceneLightRequest, type SceneMoon, sceneLight } from "./scene-light";
export { stillWaterLuminance } from "./still-water";
export { type Limb, limbAltitudeDeg } from "./sun-limb";
export {
  type LevelRow,
  type LevelTimeline,
  levelRowCount,
  levelRows,
  lightCurveOf,
  MOST_DIRECTION_ROWS,
  MOST_LEVEL_ROWS,
  type TraceLevelsRequest,
  traceAssumptions,
  traceLevels,
} from "./timeline";
export {
  type DirectLightReport,
  findLightWindows,
  type Horizon,
  type HorizonReport,
  type LightWindow,
  type LightWindows,
  type LightWindowsRequest,
  type MissingTile,
  type Place,
  type Subject,
} from "./windows";
