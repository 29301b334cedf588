/**
 * Outing: an evening or a morning planned, compared and put into words.
 * @module
 */
export {
  type Approach,
  type ApproachKind,
  chooseApproach,
  type GraduatedChoice,
  type Reason,
  type ReasonCode,
  type SceneInterval,
} from "./approach";
export type { OutingCamera } from "./camera";
export {
  type Criterion,
  type CriterionWeights,
  compareOutings,
  type RankedOuting,
  rankOutings,
  type ScoredOuting,
  type ScorePart,
  scoreOuting,
} from "./compare";
export {
  type GraduatedInFrame,
  type GraduatedInFrameRequest,
  graduatedInFrame,
  type PolarizerInFrame,
  type PolarizerInFrameRequest,
  polarizerInFrame,
} from "./filters-in-frame";
export { type ForecastSession, type ForecastWords, forecastWords } from "./forecast";
export type { ForecastHeadline, ForecastLine, LightEdge } from "./forecast-lines";
export type { PointedCamera } from "./framing-camera";
export { type Kit, sortKit } from "./kit";
export type { LongExposurePlan } from "./long-exposures";
export { keyMoments, type Moment, type MomentName, type SessionLight } from "./moments";
export type { PackItem, PackItemName } from "./pack";
export { type OutingPlan, type OutingRequest, type OutingSky, planOuting } from "./plan";
export type { OutingMoment } from "./plan-moment";
export type { PolarizerAdvice } from "./polarizer-advice";
export { givenSpan, namedSpan, type SessionSpan } from "./session";
export type { SessionInput } from "./session-moments";
export type { OutingTide, OutingTideReport, OutingTideStation } from "./tide";
