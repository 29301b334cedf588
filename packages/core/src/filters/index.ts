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
export { type ReachedOverTime, type ReachWindow, reachFinder, type WantedTimes } from "./reach";
export { type FilterChoice, type FilterSelection, selectFilters } from "./select";
export type { FilterSelectionRequest } from "./select-request";
export { type FilterStack, type FilterStackRequest, stackFilters } from "./stack";
export type { FilteredCamera, FilterWarning, FilterWarningCode } from "./stack-warnings";
