/**
 * Outing: an evening or a morning planned, compared and put into words.
 * @module
 */
export {
  type Approach,
  type ApproachKind,
  type ApproachRequest,
  type ChosenSet,
  chooseApproach,
  type GraduatedChoice,
} from "./approach";
export type { ApproachReason, ApproachReasonCode } from "./approach-reasons";
export type { TimePart } from "./arrival";
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
export type { GroundAround } from "./hazards";
export { type Kit, sortKit } from "./kit";
export type { LongExposurePlan } from "./long-exposures";
export type { OutingBracket, OutingFrame } from "./moment-bracket";
export { keyMoments, type Moment, type MomentName, type Passes, type SessionLight } from "./moments";
export type { OutingNight, Stretch } from "./night";
export type { PackItem, PackItemName } from "./pack";
export { type OutingPlan, type OutingRequest, type OutingSky, planOuting } from "./plan";
export type { OutingMoment } from "./plan-moment";
export type { PolarizerAdvice } from "./polarizer-advice";
export { type DarkEnd, SCENE_KINDS, type SceneKind } from "./scene-kind";
export type { SceneTones, Tone, ToneName } from "./scene-tones";
export { dateOfSession, type SessionInput, type SessionPart, type SessionSpan, spanOf } from "./session";
export type { GoodLight, SessionLightReport } from "./session-light";
export type { OutingTide, OutingTideReport, OutingTideStation } from "./tide";
export type { Sureness, Verdict, VerdictGrade, VerdictReason, VerdictReasonCode } from "./verdict";
export type { WayToReach } from "./ways-to-reach";
