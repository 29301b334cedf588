/**
 * Filters: neutral density, graduated and polarizing; what a stack takes, and which of a bag to use.
 * @module
 */
export {
  type Attenuation,
  attenuationFromStops,
  DENSEST_FILTER_STOPS,
  stopsAsMarked,
  stopsFromDensity,
  stopsFromFactor,
  stopsFromTransmittance,
} from "./attenuation";
export type { BaseExposure } from "./base-exposure";
export {
  type Filter,
  type FilterReading,
  type FilterStrength,
  type GraduatedFilter,
  type GraduatedTransition,
  type NeutralDensityFilter,
  type PolarizerFilter,
  readFilter,
} from "./filter";
export { type FilterGrade, filterGrades } from "./grades";
export {
  assessGraduated,
  type DarkenedThing,
  type GraduatedAssessment,
  type GraduatedFit,
  type GraduatedObstacle,
  type GraduatedReason,
  type GraduatedReasonCode,
  type GraduatedRequest,
  type GraduatedSetting,
} from "./graduated";
export { graduatedDensityWanted, MARKETED_DENSITIES } from "./graduated-strength";
export { edgeSoftness, graduatedShare, LARGEST_STRAY_PERCENT } from "./graduated-transition";
export { polarizerTransmittance } from "./malus";
export { leastGlareShare, type WetSurface } from "./polarized-glare";
export type { PolarizedSky, SkyDarkening, SkyDarkeningPoint } from "./polarized-sky";
export type { GlareLeft, PolarizedWater } from "./polarized-water";
export { assessPolarizer, type PolarizerAssessment, type PolarizerRequest, type WaterInFrame } from "./polarizer";
export type {
  PolarizerConflict,
  PolarizerVerdict,
  PolarizerVerdictCode,
  PolarizerWarning,
  PolarizerWarningCode,
} from "./polarizer-advice";
export { type ReachedOverTime, type ReachWindow, reachFinder, type WantedTimes } from "./reach";
export { type FilterChoice, type FilterSelection, selectFilters } from "./select";
export type { FilterSelectionRequest } from "./select-request";
export { type FilterStack, type FilterStackRequest, stackFilters } from "./stack";
export type { FilteredCamera, FilterWarning, FilterWarningCode } from "./stack-warnings";
export { type TakenByFilters, takenByFilters } from "./taken";
