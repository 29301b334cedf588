/** What the page reckons itself; named one by one, so that it ships no more of the library. */
export {
  getSunPosition,
  planOuting,
  projectSkyline,
  solveCameraHeight,
} from "@fieldstop/sdk/offline";
