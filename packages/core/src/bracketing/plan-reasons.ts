import { DomainError } from "../domain-error";
import type { SensorLatitude } from "./latitude";
import { CAMERA_STEPS, type Choice, fewestFrames, LARGEST_STEP_STOPS, type Reach } from "./steps";

export type BracketReasonCode =
  | "scene-range"
  | "single-frame"
  | "frames"
  | "fewer-fall-short"
  | "shifted"
  | "one-would-do";

/** Why a bracket is as it is. The code is stable; the text is for people. */
export interface BracketReason {
  readonly code: BracketReasonCode;
  readonly text: string;
}

interface Allowed {
  readonly reach: Reach;
  readonly counts: readonly number[] | "any";
  readonly steps: readonly number[];
  readonly largestStep: number;
}

interface Planned extends Allowed, Choice {
  readonly shiftStops: number;
  readonly sceneRangeStops: number;
  readonly latitude: SensorLatitude;
  /** How far the darkest and the brightest frame must lie apart [stops]; negative where one frame suffices. */
  readonly travelStops: number;
}

function plain(stops: number): number {
  return Math.round(stops * 100) / 100;
}

/** A number of stops as people write it: two decimals at most. */
export function stopsText(stops: number): string {
  const rounded = plain(stops);
  return `${rounded} ${rounded === 1 ? "stop" : "stops"}`;
}

/** A step or a bias as menus and people write it. */
export function evText(stops: number): string {
  return `${plain(stops)} EV`;
}

export function planReasons(planned: Planned): BracketReason[] {
  const { count, stepStops, shiftStops, sceneRangeStops, latitude, travelStops, reach } = planned;
  const { headroomStops, footroomStops } = latitude;
  const held = stopsText(headroomStops + footroomStops);
  const reasons: BracketReason[] = [
    {
      code: "scene-range",
      text: `The scene spans ${stopsText(sceneRangeStops)}; one frame holds ${held}, ${plain(headroomStops)} of them over the meter.`,
    },
  ];
  if (count === 1) {
    reasons.push({ code: "single-frame", text: `One frame holds it, with ${stopsText(-travelStops)} to spare.` });
    if (shiftStops !== 0) reasons.push(shifted(shiftStops));
    return reasons;
  }
  const wanted = reach.baseIsFree ? reach.darker : 2 * Math.max(reach.darker, reach.brighter);
  if (travelStops <= 0 && wanted <= 0) {
    reasons.push({ code: "one-would-do", text: "One frame would hold it; the others are spare." });
  } else {
    const reached = stopsText((count - 1) * stepStops);
    const even = reach.baseIsFree ? "" : ", evenly about the meter";
    reasons.push({
      code: "frames",
      text: `${stopsText(wanted)} more are needed${even}: ${count} frames at ${evText(stepStops)} reach ${reached} beyond one frame.`,
    });
    const fewer = fewerFallShort(planned, wanted);
    if (fewer !== undefined) reasons.push(fewer);
  }
  if (shiftStops !== 0) reasons.push(shifted(shiftStops));
  return reasons;
}

function shifted(shiftStops: number): BracketReason {
  const [side, end] = shiftStops < 0 ? ["darker", "highlights"] : ["brighter", "shadows"];
  return {
    code: "shifted",
    text: `The exposure lies ${stopsText(Math.abs(shiftStops))} ${side} than the meter says, to hold the ${end} with no more frames.`,
  };
}

/** What the next smaller set on offer would reach at its widest step. */
function fewerFallShort({ count, counts, steps, largestStep }: Planned, wanted: number): BracketReason | undefined {
  const fewer = counts === "any" ? count - 1 : counts[counts.indexOf(count) - 1];
  if (fewer === undefined || fewer < 2) return undefined;
  let widest = 0;
  for (const step of steps) if (step <= largestStep + 1e-9) widest = step;
  const reach = stopsText((fewer - 1) * widest);
  return {
    code: "fewer-fall-short",
    text: `${fewer} frames reach ${reach} at ${evText(widest)}, less than the ${stopsText(wanted)} that are needed.`,
  };
}

/** The refusal of a scene that no allowed set can hold, with what would hold it. */
export function cannotCover(
  asked: Allowed & {
    readonly request: { readonly highlightEv100: number; readonly stepStops?: number };
    readonly sceneRangeStops: number;
    readonly latitudeStops: number;
  },
): DomainError {
  const { request, reach, steps, largestStep, counts, sceneRangeStops, latitudeStops } = asked;
  const usable = steps.filter((step) => step <= largestStep + 1e-9);
  const widest = usable.at(-1);
  const free = fewestFrames(reach, "any", CAMERA_STEPS, largestStep);
  const others = free === undefined ? [] : [`${free.count} frames at ${evText(free.stepStops)}`];
  if (widest === undefined) {
    // every step on offer is wider than one frame holds, so the frames would leave gaps
    const smallest = steps[0] ?? LARGEST_STEP_STOPS;
    const narrower = largestStep > 0 ? `a step of at most ${evText(largestStep)}` : "less overlap";
    const allowed = `${narrower}: at ${evText(smallest)} frames that hold ${stopsText(latitudeStops)} do not overlap as wanted`;
    const param = request.stepStops === undefined ? "overlapStops" : "stepStops";
    return new DomainError({
      code: "impossible",
      param,
      given: request.stepStops ?? latitudeStops - largestStep,
      allowed,
    });
  }
  const most = counts === "any" ? Number.POSITIVE_INFINITY : (counts.at(-1) as number);
  const sameStep = fewestFrames(reach, "any", [widest], largestStep);
  if (sameStep !== undefined && sameStep.count > most) others.unshift(`${sameStep.count} frames at ${evText(widest)}`);
  const missing = sceneRangeStops - latitudeStops - (most - 1) * widest;
  if (missing > 0 && Number.isFinite(missing)) others.push(`a graduated filter of ${stopsText(missing)} or more`);
  if (others.length === 0) others.push("a sensor that holds more");
  const reached = Number.isFinite(most) ? stopsText(latitudeStops + (most - 1) * widest) : "less";
  return new DomainError({
    code: "impossible",
    param: "highlightEv100",
    given: request.highlightEv100,
    allowed: `a scene of at most ${reached} with ${most} frames at ${evText(widest)} (this one spans ${stopsText(sceneRangeStops)}); it would take ${[...new Set(others)].join(", or ")}`,
  });
}
