export { type AlignmentsAsked, type AlignmentsInput, alignments, alignmentsInput, findAlignments } from "./alignments";
export {
  type LightLevelsAsked,
  type LightLevelsInput,
  lightLevels,
  lightLevelsInput,
  traceLightLevels,
} from "./levels";
export {
  type LightWindowsAsked,
  type LightWindowsInput,
  lightWindows,
  lightWindowsAt,
  lightWindowsInput,
} from "./light-windows-at";
export { findLightWindows, findLightWindowsFromBody, type LightWindowsQueried } from "./windows";
