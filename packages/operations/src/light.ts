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
} from "./light-levels";
export {
  findLightWindows,
  findLightWindowsFromBody,
  type LightWindowsInput,
  type LightWindowsQueried,
  type LightWindowsRequest,
  lightWindows,
  lightWindowsAt,
  lightWindowsInput,
} from "./light-windows";
