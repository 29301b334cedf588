export { type AlignmentsAsked, findAlignments } from "./alignments";
export { type LightLevelsAsked, traceLightLevels } from "./levels";
export { type LightWindowsAsked, lightWindowsAt } from "./light-windows-at";
export { findLightWindows, findLightWindowsFromBody, type LightWindowsQueried } from "./windows";
