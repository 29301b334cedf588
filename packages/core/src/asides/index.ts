// What only some exposures and brackets call for. Those that it is handed to are listed too: a bundler that splits then keeps
// all that both sides share in one file.
export { cannotCover } from "../bracketing/cannot-cover";
export { changesDuring } from "../bracketing/changes-during";
export { planBracketWith } from "../bracketing/plan-with";
export { solveExposureWith } from "../exposure/solve-with";
export { heldForVideo } from "../exposure/video-shutter";
export { takenByFilters } from "../filters/taken";
