export { type BracketRequest, planBracket, reviewBracket } from "./brackets";
export type { Dependencies, TerrainFound, TerrainSource, Viewpoint } from "./dependencies";
export {
  type EquivalentsRequest,
  type ExposureRequest,
  type LongExposureRequest,
  listEquivalents,
  solveExposure,
  solveLongExposure,
} from "./exposures";
export {
  assessGraduated,
  assessPolarizer,
  type FilterSelectionRequest,
  type GraduatedRequest,
  type PolarizerRequest,
  selectFilters,
  stackFilters,
} from "./filters";
export {
  type CameraHeightRequest,
  type FrameAtPlace,
  type FrameRequest,
  frameAt,
  projectSkyline,
  solveCameraHeight,
} from "./framing";
export {
  type HorizonInput,
  isTileError,
  type ResolvedHorizon,
  resolveHorizon,
  type Skyline,
  skylineAt,
} from "./horizon";
export * from "./light";
export { getAngleOfView, getDepthOfField, planFocusStack, planPanorama } from "./optics";
export {
  type ComparisonInput,
  type ComparisonRequest,
  compareOutings,
  comparison,
  comparisonInput,
  type OutingInput,
  type OutingRequest,
  outing,
  outingInput,
  planOuting,
} from "./outings";
export { type PlaceInput, type PlaceTime, placeTime } from "./place";
export {
  echo,
  type FieldError,
  type InputPart,
  pointerTo,
  REFUSALS,
  Refusal,
  type RefusalKey,
  refusalFromDomain,
  valueAt,
} from "./problems";
export { getReferenceTable, listReferenceTables } from "./reference";
export { REFERENCE_TABLES, type ReferenceTable } from "./reference-tables";
export { type Fresh, rounded } from "./rounding";
export { type DewPointRequest, getDewPoint, getMoonPosition, getSunPosition, type SkyRequest } from "./sky";
export {
  type Position,
  type PredictedTide,
  type TideSource,
  type TideStation,
  type TideStationNearby,
  tideSourceOf,
} from "./tide-station";
export { type TidesRequest, tidesAt } from "./tides";
