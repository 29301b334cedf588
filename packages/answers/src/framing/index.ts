export { type CameraHeightAsked, solveCameraHeight } from "./camera-height";
export { type FrameAsked, type FrameAtPlace, frameAt } from "./frame-at";
export { projectSkyline } from "./skyline";
