export {
  type AlignmentsInput,
  type AlignmentsRequest,
  alignments,
  alignmentsInput,
  findAlignments,
} from "./alignments";
export {
  type LightLevelsInput,
  type LightLevelsRequest,
  lightLevels,
  lightLevelsInput,
  traceLightLevels,
} from "./levels";
export {
  type LightWindowsInput,
  type LightWindowsRequest,
  lightWindows,
  lightWindowsAt,
  lightWindowsInput,
} from "./light-windows-at";
export { findLightWindows, findLightWindowsFromBody, type LightWindowsQueried } from "./windows";
