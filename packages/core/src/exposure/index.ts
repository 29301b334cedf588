export {
  type Equivalents,
  type EquivalentsRequest,
  type LadderRung,
  listEquivalents,
  type RungLimit,
} from "./equivalents";
export {
  apertureValue,
  brightnessValue,
  EV100_RANGE,
  ev100FromEv,
  evAtIso,
  exposureValue,
  isoDegrees,
  requireEv100,
  speedValue,
  timeValue,
} from "./exposure-value";
export type { LadderLimit, LadderLimits, LadderLimitsInput } from "./ladder-limits";
export {
  ev100OnCurve,
  type LightCurve,
  type LightSample,
  lightCurveFromModel,
  lightCurveFromSamples,
  lightGathered,
  secondsUntilGathered,
  shiftLightCurve,
} from "./light-curve";
export type { LongExposureSettings } from "./light-needed";
export {
  type CorrectedShutter,
  type LatestStart,
  type LongExposure,
  type LongExposureRequest,
  solveLongExposure,
} from "./long-exposure";
export { ev100OfReading, type MeterReading } from "./meter-reading";
export {
  ev100FromIlluminance,
  ev100FromLuminance,
  footcandlesFromIlluminance,
  footlambertsFromLuminance,
  type IncidentReceptor,
  illuminanceFromEv100,
  luminanceFromEv100,
  METER_CONSTANT_C,
  METER_CONSTANT_K,
} from "./metering";
export {
  frameToFrameDisplacementPx,
  type HandHeld,
  handHeldLimitSeconds,
  imageDisplacementPx,
  imageSpeedPxPerS,
  type LongestShutter,
  longestShutterForBlur,
  type SubjectMotion,
  type VideoAttenuation,
  videoAttenuation,
  videoShutterSeconds,
} from "./motion";
export {
  apertureSeries,
  isoSeries,
  type NominalMark,
  nearestApertureMark,
  nearestIsoMark,
  nearestShutterMark,
  type SeriesStep,
  shutterSeries,
} from "./nominal-series";
export { type FilmReciprocity, filmEquivalentSeconds, filmSeconds } from "./reciprocity";
export { SCENE_EXPOSURES, type SceneExposure, SUNNY_16, type SunnyAperture } from "./scenes";
export {
  type ApertureSetting,
  apertureSetting,
  type IsoSetting,
  isoSetting,
  parseAperture,
  parseIso,
  parseShutter,
  readAperture,
  readIso,
  readShutter,
  type SettingOrigin,
  type ShutterSetting,
  shutterSetting,
} from "./settings";
export {
  isFasterThanShutter,
  isPastLongest,
  MARK_SLACK_STOPS,
  type ShutterLimits,
  USUAL_FASTEST_SECONDS,
  USUAL_LONGEST_SECONDS,
} from "./shutter-limits";
export { type ShutterMoment, type ShutterMoments, whenShutterComesAbout } from "./shutter-moments";
export {
  type ExposureRequest,
  type ExposureSolution,
  type ExposureWarning,
  type ExposureWarningCode,
  solveExposure,
} from "./solve";
