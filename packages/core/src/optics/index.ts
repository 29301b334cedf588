/**
 * Optics: angle of view, depth of field, focus stacks, diffraction and panoramas.
 * @module
 */
export { type AngleOfView, type AngleOfViewRequest, angleOfView, imageSizeMm, type ViewAngles } from "./angle-of-view";
export type { CameraOptics, Diffraction } from "./camera-optics";
export {
  circleOfConfusionMm,
  circleOfConfusionOfDiagonal,
  circleOfConfusionOnPrint,
  type Print,
  type SharpnessWanted,
} from "./circle-of-confusion";
export { type Crop, cropTo, parseAspect } from "./crop";
export { type DepthOfField, type DepthOfFieldRequest, depthOfField } from "./depth-of-field";
export { airyDiameterUm, apertureOfAiryDiameter, GREEN_LIGHT_NM } from "./diffraction";
export type { FocusAdvice, FocusAdviceCode } from "./focus-advice";
export type { FocusForWanted, WantedSharp } from "./focus-for-wanted";
export {
  type FocusStack,
  type FocusStackRequest,
  type FocusStackWarning,
  type FocusStackWarningCode,
  planFocusStack,
  type StackFrame,
} from "./focus-stack";
export { hyperfocalDistanceM } from "./hyperfocal";
export { type Panorama, type PanoramaRequest, type PanoramaRow, planPanorama, type StitchedSize } from "./panorama";
export { asHeld, type FrameOrientation, readSensor, type Sensor, type SensorReading, type SensorSize } from "./sensor";
export { type FormatSize, SENSOR_FORMAT_NAMES, SENSOR_FORMATS, type SensorFormatName } from "./sensor-formats";
export {
  apertureForLimits,
  blurDiameterMm,
  type Distance,
  type FarLimit,
  focusBetweenM,
  type SharpLimits,
  sharpLimits,
  type ThinLens,
} from "./thin-lens";
