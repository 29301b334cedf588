import { DomainError, requireInRange } from "../domain-error";
import type { ApertureSetting } from "../exposure/settings";
import type { Assumption } from "../notes";
import { findRoot } from "../roots";
import { type CameraOptics, type Diffraction, readCameraOptics } from "./camera-optics";
import { hyperfocalDistanceM } from "./hyperfocal";
import {
  apertureForLimits,
  type Distance,
  FARTHEST_SUBJECT_M,
  type FarLimit,
  focusBetweenM,
  requireDistance,
  sharpLimits,
  type ThinLens,
} from "./thin-lens";

export interface FocusStackRequest extends CameraOptics {
  /** The nearest thing that should be sharp [m]. */
  readonly nearM: number;
  /** The farthest thing that should be sharp [m], or `infinity`; default infinity. */
  readonly farM?: Distance;
  /** Part of each frame's depth that the next one covers again, 0 to 0.9; default 0.2. */
  readonly overlap?: number;
}

export interface StackFrame {
  readonly focusDistanceM: number;
  readonly nearM: number;
  readonly far: FarLimit;
}

export type FocusStackWarningCode = "diffraction-softens" | "one-frame-would-do";

/** What may be better done otherwise. The code is stable; the text is for people. */
export interface FocusStackWarning {
  readonly code: FocusStackWarningCode;
  readonly text: string;
}

export interface FocusStack {
  /** From the nearest to the farthest; each with what it holds at `maxBlurMm`. */
  readonly frames: readonly StackFrame[];
  readonly count: number;
  readonly overlap: number;
  readonly aperture: ApertureSetting;
  /** The blur that was allowed [mm]. */
  readonly circleOfConfusionMm: number;
  /** The blur that is nowhere exceeded in the range [mm]: frames come whole, and what is left over makes all of them sharper. */
  readonly maxBlurMm: number;
  readonly hyperfocalM: number;
  /** What a single frame would take instead. */
  readonly singleFrame: { readonly focusDistanceM: number; readonly apertureNeeded: number };
  readonly diffraction: Diffraction;
  readonly warnings: readonly FocusStackWarning[];
  readonly assumptions: readonly Assumption[];
}

// Common practice: a fifth to a third of overlap hides the seams of a blend
const USUAL_OVERLAP = 0.2;
// Past what anyone blends of a landscape
const MOST_FRAMES = 300;

/**
 * Plan the focus distances whose frames together hold everything from near to far: the fewest, evenly spread in sharpness.
 * @param request camera as for `depthOfField`; `nearM` [m], more than the focal length; `farM` [m] or `infinity`; `overlap` [1] 0 to 0.9,
 *   a part of a frame's depth counted in reciprocal distance, as the blur goes
 * @returns frames from the nearest on, each with its limits [m]
 * @throws DomainError out of range, or a near end beyond the far one; `impossible` for more than 300 frames
 * Source: thin lens, each far limit set behind the last near limit by the overlap; the even spread is our own. Accuracy: exact for a thin lens
 * that keeps its focal length. Held by tests/core/optics/focus-stack.spec.ts: no gap, no frame too many.
 * @example planFocusStack({ sensor: "full-frame", focalLengthMm: 24, aperture: 11, nearM: 0.4 }).frames.map((f) => f.focusDistanceM)
 *   // [0.493, 0.790, 2.038]
 */
export function planFocusStack(request: FocusStackRequest): FocusStack {
  const assumptions: Assumption[] = [];
  const { aperture, lens, diffraction } = readCameraOptics(request, assumptions);
  const { nearM, farM } = readEnds(request, lens.focalLengthMm, assumptions);
  if (request.overlap === undefined) {
    const why = "common practice: a fifth hides the seams";
    assumptions.push({ field: "overlap", value: USUAL_OVERLAP, why });
  }
  const overlap = requireInRange("overlap", request.overlap ?? USUAL_OVERLAP, 0, 0.9);

  const farReciprocal = farM === "infinity" ? 0 : 1 / farM;
  const count = fewestFrames(lens, nearM, farReciprocal, overlap);
  const beyondNearEnd = (blur: number): number => {
    const last = focusSteps({ ...lens, circleOfConfusionMm: blur }, farReciprocal, overlap, count).at(-1) as FocusStep;
    return last.nearReciprocal - 1 / nearM;
  };
  // the blur at which this many frames just reach the near end, looked for by its logarithm
  const allowed = lens.circleOfConfusionMm;
  const least = allowed / 1000;
  const beyondAt = (log: number): number => beyondNearEnd(2 ** log);
  const [leastLog, allowedLog] = [Math.log2(least), Math.log2(allowed)];
  let maxBlurMm = least;
  if (beyondNearEnd(least) < 0) {
    // where the frames only just reach, rounding of the logarithm may leave no room to look in
    maxBlurMm = beyondAt(allowedLog) <= 0 ? allowed : 2 ** findRoot(beyondAt, leastLog, allowedLog, 1e-12);
  }
  const spread = { ...lens, circleOfConfusionMm: maxBlurMm };
  const frames = focusSteps(spread, farReciprocal, overlap, count)
    .map(({ focusDistanceM }): StackFrame => ({ focusDistanceM, ...sharpLimits(spread, focusDistanceM) }))
    .reverse();

  const apertureNeeded = apertureForLimits(lens, nearM, farM);
  return {
    frames,
    count,
    overlap,
    aperture,
    circleOfConfusionMm: allowed,
    maxBlurMm,
    hyperfocalM: hyperfocalDistanceM(lens),
    singleFrame: { focusDistanceM: focusBetweenM(nearM, farM), apertureNeeded },
    diffraction,
    warnings: stackWarningsOf(lens, count, apertureNeeded, diffraction),
    assumptions,
  };
}

function readEnds(
  request: FocusStackRequest,
  focalLengthMm: number,
  assumptions: Assumption[],
): { nearM: number; farM: Distance } {
  const nearM = requireDistance("nearM", request.nearM, focalLengthMm, FARTHEST_SUBJECT_M);
  if (request.farM === undefined) {
    assumptions.push({ field: "farM", value: "infinity", why: "the usual wish in a landscape" });
    return { nearM, farM: "infinity" };
  }
  if (request.farM === "infinity") return { nearM, farM: "infinity" };
  const farM = requireDistance("farM", request.farM, focalLengthMm, FARTHEST_SUBJECT_M);
  if (farM < nearM) {
    const allowed = `no nearer than nearM, ${nearM}`;
    throw new DomainError({ param: "farM", given: farM, allowed, unit: "m" });
  }
  return { nearM, farM };
}

function fewestFrames(lens: ThinLens, nearM: number, farReciprocal: number, overlap: number): number {
  const steps = focusSteps(lens, farReciprocal, overlap, MOST_FRAMES, 1 / nearM);
  if ((steps.at(-1) as FocusStep).nearReciprocal >= 1 / nearM) return steps.length;
  const allowed = `a range that ${MOST_FRAMES} frames can hold: stop down, or begin farther away`;
  throw new DomainError({ code: "impossible", param: "nearM", given: nearM, allowed, unit: "m" });
}

interface FocusStep {
  readonly focusDistanceM: number;
  /** One over the near limit [1/m]: blur goes evenly in it, and infinity is 0. */
  readonly nearReciprocal: number;
}

/** Frames from the far end nearer, each far limit behind the last near limit by the overlap; up to `most`, or until an end is held. */
function focusSteps(
  lens: ThinLens,
  farReciprocal: number,
  overlap: number,
  most: number,
  untilReciprocal = Number.POSITIVE_INFINITY,
): FocusStep[] {
  // the limits of sharpLimits in reciprocals, with h the hyperfocal distance: far = s(h−f)/(h−s) solved for s
  const h = hyperfocalDistanceM(lens);
  const f = lens.focalLengthMm / 1000;
  const steps: FocusStep[] = [];
  let far = farReciprocal;
  while (steps.length < most) {
    const focusDistanceM = h / (1 + (h - f) * far);
    const nearReciprocal = (h - 2 * f + focusDistanceM) / (focusDistanceM * (h - f));
    steps.push({ focusDistanceM, nearReciprocal });
    if (nearReciprocal >= untilReciprocal) break;
    far = nearReciprocal - overlap * (nearReciprocal - far);
  }
  return steps;
}

function stackWarningsOf(
  lens: ThinLens,
  count: number,
  apertureNeeded: number,
  diffraction: Diffraction,
): FocusStackWarning[] {
  const warnings: FocusStackWarning[] = [];
  if (diffraction.airyDiameterUm > lens.circleOfConfusionMm * 1000) {
    const text = `Diffraction alone blurs more than is allowed: open up to f/${diffraction.apertureAtCircleOfConfusion.toFixed(1)} or wider, and take more frames.`;
    warnings.push({ code: "diffraction-softens", text });
  }
  if (count > 1 && apertureNeeded <= diffraction.apertureAtCircleOfConfusion) {
    const text = `One frame at f/${apertureNeeded.toFixed(1)} would hold it all, before diffraction shows.`;
    warnings.push({ code: "one-frame-would-do", text });
  }
  return warnings;
}
