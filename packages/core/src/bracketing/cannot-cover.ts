import { DomainError } from "../domain-error";
import { CAMERA_STEPS, fewestFrames, LARGEST_STEP_STOPS, type Reach } from "./bracket-frames";
import { evText, stopsText } from "./stops-text";

/** The sets that a plan may choose from. */
export interface Allowed {
  readonly reach: Reach;
  readonly counts: readonly number[] | "any";
  readonly steps: readonly number[];
  readonly largestStep: number;
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
