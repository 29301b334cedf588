/**
 * Exposure: aperture, shutter time, ISO and EV; equivalents, metering, motion blur, reciprocity and long exposures in changing light.
 * @module
 */
export type { NominalMark, SeriesStep } from "./dial";
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
export { frameToFrameDisplacementPx } from "./frame-shift";
export { type HandHeld, handHeldLimitSeconds } from "./hand-held";
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
export { LightSums } from "./light-sums";
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
  type IncidentReceptor,
  illuminanceFromEv100,
  luminanceFromEv100,
  METER_CONSTANT_C,
  METER_CONSTANT_K,
} from "./metering";
export { footcandlesFromIlluminance, footlambertsFromLuminance } from "./metering-by-foot";
export {
  imageDisplacementPx,
  imageSpeedPxPerS,
  type LongestShutter,
  longestShutterForBlur,
  type SubjectMotion,
} from "./motion";
export {
  apertureSeries,
  isoSeries,
  nearestApertureMark,
  nearestIsoMark,
  nearestShutterMark,
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
export { type VideoAttenuation, videoAttenuation, videoShutterSeconds } from "./video";
export type { HeldVideo } from "./video-shutter";
