/**
 * Framing: where the skyline, the sun and the moon stand in a frame, and how high to put the camera.
 * @module
 */
export { type BodyInFrame, type BodyInFrameRequest, bodyInFrame } from "./body-in-frame";
export {
  type CameraHeightRequest,
  type CameraHeights,
  type ForegroundThing,
  type ObstacleClearance,
  solveCameraHeight,
} from "./camera-height";
export type { HeightAnswer, HeightRange, RidgeState } from "./height-ranges";
export type { HeightStep, HeightView, VerticalFraming, VerticalLens } from "./height-view";
export {
  type FramePoint,
  type FrameProjection,
  type FramingCamera,
  frameProjection,
  type ProjectionKind,
  type SkyDirection,
} from "./projection";
export type { RidgePoint } from "./ridge-behind";
export { type SkylineInFrame, type SkylinePoint, type StraightLine, skylineInFrame } from "./skyline";
