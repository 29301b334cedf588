export {
  type FramePoint,
  type FrameProjection,
  type FramingCamera,
  frameProjection,
  type ProjectionKind,
  type SkyDirection,
} from "./projection";
export { type SkylineInFrame, type SkylinePoint, type StraightLine, skylineInFrame } from "./skyline";
