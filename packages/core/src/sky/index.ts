/**
 * Sky: sun, moon, twilight, refraction, illuminance, cloud and the sky's luminance.
 * @module
 */
export type { Curve } from "../roots";
export { CIE_SKIES, type CieSky, type CieSkyType, cieSky, relativeSkyLuminance } from "./cie-sky";
export { type CloudEffect, cloudEffect, coverTransmittance } from "./cloud";
export { CLOUD_DECK_HEIGHTS_M, cloudLitDownToDeg } from "./cloud-lit";
export { type CloudOutlook, type CloudOutlookKind, cloudOutlook } from "./cloud-outlook";
export {
  type AvailabilitySky,
  availableSkyLux,
  clearBeamLux,
  type Daylight,
  relativeAirMass,
  splitDaylight,
} from "./daylight";
export { type DewPoint, dewPoint, type FogRisk } from "./dew-point";
export { type FresnelReflectance, fresnelReflectance, polarizingAngleDeg, WATER_REFRACTIVE_INDEX } from "./fresnel";
export type { Observer, SkyPosition } from "./horizontal";
export { moonIlluminanceLux, nightGlowLux, sunIlluminanceLux } from "./illuminance";
export {
  type CameraView,
  frameMeanBelowHorizon,
  frameSkyLuminance,
  type SkyGlow,
  skyLuminance,
  USUAL_VIEW,
  type WholeCameraView,
  wholeCameraView,
} from "./luminance";
export {
  type MoonPhase,
  type MoonPhaseName,
  type MoonPosition,
  moonPhase,
  moonPosition,
  moonSemidiameterDeg,
} from "./moon";
export { type OpenSkyLight, openSkyLight, openSkyLightOver } from "./open-sky-light";
export {
  airPolarizationMaximum,
  maximumPolarization,
  rayleighPolarization,
  type SkyPolarization,
  type SkyPolarizationAt,
  skyPolarization,
} from "./polarization";
export {
  type Atmosphere,
  HORIZON_REFRACTION_DEG,
  refractionDeg,
  refractionSeenDeg,
  trueFromApparentDeg,
  usualPressureHPa,
} from "./refraction";
export { skyPattern } from "./sky-pattern";
export {
  CLEAR_SKY,
  type CloudCover,
  requireCloudCover,
  requireTurbidity,
  type SkyField,
  type SkyPoint,
  type SkyState,
  skyField,
  TURBIDITY,
} from "./sky-types";
export { SUN_SEMIDIAMETER_DEG, sunPosition } from "./sun";
export { type MoonTrack, moonTrack, type SkyTrack, sunTrack } from "./track";
