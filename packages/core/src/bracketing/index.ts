/**
 * Brackets: which frames hold a contrast, and what a set of frames has caught.
 * @module
 */
export { type BracketPlan, type BracketRequest, planBracket } from "./bracket-plan";
export { type BracketReview, type ReviewedFrame, type ReviewRequest, reviewBracket } from "./bracket-review";
export { type BracketingInput, type BracketSet, type BracketSets, readBracketing } from "./bracket-set";
export type { BracketSubject } from "./changes-during";
export type { ChannelReading, TakenFrame } from "./frame-reading";
export {
  type Histogram,
  type HistogramChannel,
  type HistogramCoding,
  linearFromSrgb,
  srgbFromLinear,
} from "./histogram";
export { type LatitudeInput, type SensorLatitude, sensorLatitude } from "./latitude";
export type { BracketFrame } from "./lay-frames";
export type { BracketCamera } from "./plan-camera";
export type { BracketReason, BracketReasonCode } from "./plan-reasons";
export type { BracketWarning, BracketWarningCode } from "./plan-warnings";
export type { Alignment, MissingFrame, MissingFrameCode } from "./review-blend";
export type { ReviewChange, ReviewChangeCode } from "./review-changes";
