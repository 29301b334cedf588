import type { FrameReading } from "./frame-reading";
import type { Alignment, MissingFrame } from "./review-blend";
import type { SceneReading } from "./scene-reading";
import { evText, stopsText } from "./stops-text";

export type ReviewChangeCode =
  | "nothing"
  | "add-darker"
  | "add-brighter"
  | "add-between"
  | "shift-darker"
  | "shift-brighter"
  | "fewer-frames"
  | "one-frame"
  | "check-bias"
  | "tone-curve";

/** What to change next time. The code is stable; the text is for people. */
export interface ReviewChange {
  readonly code: ReviewChangeCode;
  readonly text: string;
}

// A third of a stop is the finest step of a dial: less than that is no mistake. Half a stop between dark and bright parts is a curve.
const BIAS_ERROR_STOPS = 1 / 3;
const CURVE_STOPS = 1 / 2;

interface Reviewed {
  readonly sorted: readonly FrameReading[];
  readonly scene: SceneReading;
  readonly chosen: readonly number[];
  readonly missing: readonly MissingFrame[];
  readonly alignment: readonly Alignment[];
}

export function reviewChanges({ sorted, scene, chosen, missing, alignment }: Reviewed): ReviewChange[] {
  const changes: ReviewChange[] = [];
  const spareBright = sorted.length - 1 - (chosen.at(-1) as number);
  const spareDark = chosen[0] as number;
  for (const { code, biasStops } of missing) {
    const bias = evText(biasStops);
    if (code === "gap") changes.push({ code: "add-between", text: `Add a frame at ${bias}, or take smaller steps.` });
    else if (code === "highlights-clip" && !scene.blocks && spareBright > 0) {
      changes.push({
        code: "shift-darker",
        text: `Shift the whole set darker by at least a stop: ${framesText(spareBright)} at the bright end ${spareBright === 1 ? "is" : "are"} spare, so it takes no more.`,
      });
    } else if (code === "highlights-clip") {
      changes.push({ code: "add-darker", text: `Go on to ${bias} or darker, until nothing clips.` });
    } else if (!scene.clips && spareDark > 0) {
      changes.push({
        code: "shift-brighter",
        text: `Shift the whole set brighter by at least a stop: ${framesText(spareDark)} at the dark end ${spareDark === 1 ? "is" : "are"} spare, so it takes no more.`,
      });
    } else {
      changes.push({ code: "add-brighter", text: `Go on to ${bias} or brighter, until the shadows open.` });
    }
  }
  if (missing.length === 0 && chosen.length < sorted.length) {
    const biases = chosen.map((place) => evText((sorted[place] as FrameReading).biasStops)).join(", ");
    changes.push(
      chosen.length === 1
        ? { code: "one-frame", text: `One frame holds the scene: the one at ${biases}.` }
        : { code: "fewer-frames", text: `${framesText(chosen.length)} hold the scene: ${biases}.` },
    );
  }
  changes.push(...alignmentChanges(alignment));
  if (changes.length === 0)
    changes.push({ code: "nothing", text: "The set holds the scene, and every frame is needed." });
  return changes;
}

function framesText(count: number): string {
  return count === 1 ? "1 frame" : `${count} frames`;
}

function alignmentChanges(alignment: readonly Alignment[]): ReviewChange[] {
  const changes: ReviewChange[] = [];
  const curved = alignment.find(({ spreadStops }) => spreadStops !== null && spreadStops > CURVE_STOPS);
  if (curved !== undefined) {
    changes.push({
      code: "tone-curve",
      text: `Between ${evText(curved.fromBiasStops)} and ${evText(curved.toBiasStops)} dark and bright parts differ by ${stopsText(curved.spreadStops as number)}: a tone curve is at work, so levels near its ends are less sure. Raw data or a neutral picture style reads better.`,
    });
  }
  const off = alignment.find(({ errorStops }) => errorStops !== null && Math.abs(errorStops) > BIAS_ERROR_STOPS);
  if (off !== undefined) {
    const error = off.errorStops as number;
    changes.push({
      code: "check-bias",
      text: `From ${evText(off.fromBiasStops)} to ${evText(off.toBiasStops)} the picture grew ${stopsText(Math.abs(error))} ${error > 0 ? "more" : "less"} than the bias says: the light changed, a bias is wrong, or a tone curve is at work.`,
    });
  }
  return changes;
}
