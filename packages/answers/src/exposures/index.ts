export { type EquivalentsAsked, listEquivalents } from "./equivalents";
export { solveLongExposure } from "./long";
export type { LongExposureAsked } from "./long-exposure";
export { type ExposureAsked, solveExposure } from "./solve";
