export { type CameraHeightRequest, solveCameraHeight } from "./camera-height";
export { type FrameAtPlace, type FrameRequest, frameAt } from "./frame-at";
export { projectSkyline } from "./skyline";
