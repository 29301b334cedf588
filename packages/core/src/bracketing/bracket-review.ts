import { DomainError, requireInRange } from "../domain-error";
import type { Assumption } from "../notes";
import { type FrameReading, readFrame, rememberEdges, type TakenFrame } from "./frame-reading";
import type { HistogramChannel } from "./histogram";
import { type LatitudeInput, sensorLatitude } from "./latitude";
import { type Alignment, alignmentOf, chooseFrames, type MissingFrame, missingFrames } from "./review-blend";
import { type ReviewChange, reviewChanges } from "./review-changes";
import { sceneOf } from "./scene-reading";

export interface ReviewRequest {
  /** 1 to 99 frames of one scene, in any order; aperture and ISO the same for all. */
  readonly frames: readonly TakenFrame[];
  /** What is known of the sensor; its whole range, from clipping down, sets the noise floor. */
  readonly camera?: LatitudeInput;
  /** Share of pixels that may clip, as the sun and glints do [%], 0 to 50; default 0.1. */
  readonly clippedTolerancePercent?: number;
  /** Share of pixels that may be black, as crevices are [%], 0 to 50; default 0.1. */
  readonly blockedTolerancePercent?: number;
  /** Range that neighbouring frames are to share for a smooth blend [stops], 0 to 12; default 1. */
  readonly overlapStops?: number;
}

export interface ReviewedFrame {
  readonly biasStops: number;
  /** Pixels in which a channel is clipped [%], by the channel that clips most. */
  readonly clippedHighlightPercent: number;
  /** Pixels that are under the noise floor [%], by the channel that is blocked least. */
  readonly blockedShadowPercent: number;
  /** Whether the blend with the fewest frames uses it. */
  readonly needed: boolean;
  readonly channels: Readonly<
    Record<HistogramChannel, { readonly clippedHighlightPercent: number; readonly blockedShadowPercent: number }>
  >;
}

export interface BracketReview {
  /** In the order given. */
  readonly frames: readonly ReviewedFrame[];
  /** From the darkest to the brightest part of the scene, over all frames [stops]. */
  readonly sceneRangeStops: number;
  /** Whether the scene goes further than the frames do, so that the range is the least that it can be. */
  readonly sceneRangeIsMinimum: boolean;
  /** Brightest part of the scene against clipping in a frame without bias [stops]; positive where that frame clips. */
  readonly highlightStops: number;
  /** Darkest part of the scene against clipping in a frame without bias [stops]. */
  readonly shadowStops: number;
  /** How many frames the blend needs, of those taken. */
  readonly fewestFrames: number;
  /** Frames that can be left out, by their place in the order given, counted from 0. */
  readonly leaveOut: readonly number[];
  /** Frames still to be taken. */
  readonly missing: readonly MissingFrame[];
  /** What to change next time. */
  readonly changes: readonly ReviewChange[];
  /** How well neighbouring frames agree with their biases. */
  readonly alignment: readonly Alignment[];
  readonly assumptions: readonly Assumption[];
}

const MOST_FRAMES = 99;
const USUAL_CLIPPED_PERCENT = 0.1;
const USUAL_BLOCKED_PERCENT = 0.1;

/**
 * Review what a bracket that was taken holds: which frames still clip and which shadows are still black, how far the scene reaches over all frames, the
 * fewest frames that a blend needs, and the frames still missing. Histograms are made linear, moved by their bias, and the scene is read from the
 * brightest frame that still holds the highlights and from the brightest of all.
 * @param request `frames` with `biasStops` [stops], `histogram` of 256 to 65,536 bins per channel, `coding`; the sensor's range [stops]; tolerances [%]
 * @returns each frame's clipped and blocked share [%] and whether it is needed; the range of the scene [stops]; what is missing and what to change
 * @throws DomainError for no frames or too many, histograms of different lengths, negative counts, no pixels, values out of range
 * Source: sRGB by IEC 61966-2-1; one stop further where an end is missing: common practice. Accuracy: range within a third of a stop on synthetic
 * scenes of 4 to 16 stops, 8-bit sRGB and linear, with noise, held by tests/core/bracketing/bracket-review.spec.ts; a tone curve in the camera's own pictures
 * adds to that, and `alignment` shows it.
 * @example reviewBracket({ frames }).missing // [{ biasStops: -3, … }] where the frame at -2 still clips
 */
export function reviewBracket(request: ReviewRequest): BracketReview {
  const { frames } = request;
  if (!(frames.length >= 1 && frames.length <= MOST_FRAMES)) {
    throw new DomainError({ param: "frames", given: frames.length, allowed: `1 to ${MOST_FRAMES} frames` });
  }
  const assumptions: Assumption[] = [];
  const latitude = sensorLatitude(request.camera ?? {}, undefined, assumptions, "camera.");
  const taken = (field: "clippedTolerancePercent" | "blockedTolerancePercent", usual: number, why: string): number => {
    if (request[field] === undefined) assumptions.push({ field, value: usual, why });
    return requireInRange(field, request[field] ?? usual, 0, 50, "%") / 100;
  };
  const rules = {
    rangeStops: latitude.headroomStops + latitude.footroomStops,
    clippedShare: taken("clippedTolerancePercent", USUAL_CLIPPED_PERCENT, "the sun, glints and lamps may clip"),
    blockedShare: taken("blockedTolerancePercent", USUAL_BLOCKED_PERCENT, "crevices may be black"),
  };
  const overlapStops = requireInRange("overlapStops", request.overlapStops ?? 1, 0, 12, "stops");
  if (request.overlapStops === undefined) {
    assumptions.push({ field: "overlapStops", value: 1, why: "a stop in common blends without a seam" });
  }

  const edgesOf = rememberEdges();
  const readings = frames.map((frame, i) => readFrame(frame, `frames.${i}`, rules, edgesOf));
  const order = readings.map((_, i) => i).sort((a, b) => readings[a]!.biasStops - readings[b]!.biasStops);
  const sorted = order.map((i) => readings[i] as FrameReading);
  const scene = sceneOf(sorted, rules.clippedShare * 100, rules.blockedShare * 100);
  const chosen = chooseFrames(sorted, scene, overlapStops);
  const needed = new Set(chosen.map((place) => order[place] as number));
  const missing = missingFrames(sorted, scene, chosen, rules);
  const alignment = alignmentOf(sorted);
  return {
    frames: readings.map((reading, i) => ({
      biasStops: reading.biasStops,
      clippedHighlightPercent: reading.clippedHighlightPercent,
      blockedShadowPercent: reading.blockedShadowPercent,
      needed: needed.has(i),
      channels: reading.channels,
    })),
    sceneRangeStops: scene.highlightStops - scene.shadowStops,
    sceneRangeIsMinimum: scene.clips || scene.blocks,
    highlightStops: scene.highlightStops,
    shadowStops: scene.shadowStops,
    fewestFrames: needed.size,
    leaveOut: readings.map((_, i) => i).filter((i) => !needed.has(i)),
    missing,
    changes: reviewChanges({ sorted, scene, chosen, missing, alignment }),
    alignment,
    assumptions,
  };
}
