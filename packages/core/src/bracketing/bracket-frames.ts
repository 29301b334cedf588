import { requireInRange } from "../domain-error";

// Common practice: counts and steps that cameras offer for automatic brackets, in thirds; a single frame is always to be had
export const CAMERA_COUNTS: readonly number[] = Object.freeze([1, 3, 5, 7, 9]);
export const CAMERA_STEPS: readonly number[] = Object.freeze([1, 2, 3, 4, 5, 6, 7, 8, 9].map((thirds) => thirds / 3));

export const LARGEST_STEP_STOPS = 3;
export const MOST_FRAMES = 99;

// Rounding of thirds, and nothing else
const SLACK_STOPS = 1e-9;

// Menus show thirds as 0.3 and 0.7: a number this near to a third is that third
const THIRD_SLACK = 0.04;

/** The step that a menu means by a number: 0.3 and 0.33 are a third of a stop, 0.7 is two, 1.3 is four. */
export function readStep(stepStops: number): number {
  requireInRange("stepStops", stepStops, 0.3, LARGEST_STEP_STOPS, "stops");
  const third = Math.round(stepStops * 3) / 3;
  return Math.abs(third - stepStops) <= THIRD_SLACK ? third : stepStops;
}

/** How many frames lie on either side of the frame at no bias: an even set has the odd one on the dark side, where clipping cannot be mended. */
export function framesDarker(count: number): number {
  return count >> 1;
}

/**
 * How far the brightest and the darkest frame of a set must lie from the base exposure, either side [stops]. Where the base is free only the
 * sum matters, and `darker` holds it.
 */
export interface Reach {
  readonly darker: number;
  readonly brighter: number;
  readonly baseIsFree: boolean;
}

/** The smallest step at which `count` frames reach as far as is wanted [stops]; infinite where they cannot. */
function stepNeeded(count: number, reach: Reach): number {
  const dark = framesDarker(count);
  const bright = count - 1 - dark;
  if (reach.baseIsFree) return quotient(reach.darker + reach.brighter, count - 1);
  return Math.max(quotient(reach.darker, dark), quotient(reach.brighter, bright));
}

function quotient(stops: number, steps: number): number {
  return stops <= SLACK_STOPS ? 0 : stops / steps;
}

/** The smallest step on offer that is no smaller than needed; infinite where there is none. */
function offeredStep(needed: number, steps: readonly number[], largest: number): number {
  for (const step of steps) if (step >= needed - SLACK_STOPS) return step <= largest + SLACK_STOPS ? step : Infinity;
  return Infinity;
}

export interface Choice {
  readonly count: number;
  readonly stepStops: number;
}

/**
 * The fewest frames among `counts` (ascending, or any number at all) that reach as far as wanted at one of `steps` (ascending) no larger than
 * `largestStep`, and the smallest such step; undefined where none does.
 */
export function fewestFrames(
  reach: Reach,
  counts: readonly number[] | "any",
  steps: readonly number[],
  largestStep: number,
): Choice | undefined {
  const most = counts === "any" ? MOST_FRAMES : counts.length;
  for (let i = 0; i < most; i++) {
    const count = counts === "any" ? i + 1 : (counts[i] as number);
    const needed = stepNeeded(count, reach);
    if (count === 1) {
      if (needed === 0) return { count, stepStops: 0 };
      continue;
    }
    const stepStops = offeredStep(needed, steps, largestStep);
    if (stepStops !== Infinity) return { count, stepStops };
  }
  return undefined;
}
