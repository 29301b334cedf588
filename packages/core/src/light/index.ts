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
