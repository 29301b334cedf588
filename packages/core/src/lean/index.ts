// For whoever hands in what only some requests call for, from the entry `asides`
export { type BracketAsides, planBracketWith } from "../bracketing/plan-with";
export { type ExposureAsides, solveExposureWith } from "../exposure/solve-with";
