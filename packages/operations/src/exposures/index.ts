export { type EquivalentsRequest, listEquivalents } from "./equivalents";
export { solveLongExposure } from "./long";
export type { LongExposureRequest } from "./long-exposure";
export { type ExposureRequest, solveExposure } from "./solve";
