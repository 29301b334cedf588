import type { Choice } from "./bracket-frames";
import type { Allowed } from "./cannot-cover";
import type { SensorLatitude } from "./latitude";
import { evText, plain, stopsText } from "./stops-text";

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

interface Planned extends Allowed, Choice {
  readonly shiftStops: number;
  readonly sceneRangeStops: number;
  readonly latitude: SensorLatitude;
  /** How far the darkest and the brightest frame must lie apart [stops]; negative where one frame suffices. */
  readonly travelStops: number;
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
    const fewer = fewerFallShort(planned);
    if (fewer !== undefined) reasons.push(fewer);
  }
  if (shiftStops !== 0) reasons.push(shifted(shiftStops));
  return reasons;
}

function shifted(shiftStops: number): BracketReason {
  const [side, end] = shiftStops < 0 ? ["darker", "highlights"] : ["brighter", "shadows"];
  return {
    code: "shifted",
    text: `The set lies ${stopsText(Math.abs(shiftStops))} ${side} than metered, to hold the ${end} with no more frames.`,
  };
}

/** What the next smaller set on offer would reach at its widest step. */
function fewerFallShort({ count, counts, steps, largestStep }: Planned): BracketReason | undefined {
  const fewer = counts === "any" ? count - 1 : counts[counts.indexOf(count) - 1];
  if (fewer === undefined || fewer < 2) return undefined;
  let widest = 0;
  for (const step of steps) if (step <= largestStep + 1e-9) widest = step;
  return {
    code: "fewer-fall-short",
    text: `${fewer} frames at ${evText(widest)} reach only ${stopsText((fewer - 1) * widest)}.`,
  };
}
