import { DomainError, requireInRange } from "../domain-error";
import { requireEv100 } from "../exposure/exposure-value";
import type { Assumption } from "../notes";
import {
  CAMERA_COUNTS,
  CAMERA_STEPS,
  fewestFrames,
  framesDarker,
  MOST_FRAMES,
  type Reach,
  readStep,
} from "./bracket-frames";
import { cannotCover } from "./cannot-cover";
import type { SceneChanges } from "./changes-during";
import { type SensorLatitude, sensorLatitude } from "./latitude";
import { type BracketFrame, layFrames } from "./lay-frames";
import { type BracketCamera, readCamera } from "./plan-camera";
import { type BracketReason, planReasons } from "./plan-reasons";
import { type BracketWarning, planWarnings } from "./plan-warnings";

export interface BracketRequest extends SceneChanges {
  /** Darkest part of the scene that is to show detail [EV100]. */
  readonly shadowEv100: number;
  /** Brightest part of the scene that is to show detail [EV100], no darker than the shadow. */
  readonly highlightEv100: number;
  readonly camera?: BracketCamera;
  /** Step between frames [stops], 0.3 to 3, as menus show it; default: whichever of the usual steps needs the fewest frames. */
  readonly stepStops?: number;
  /** Counts that may be used, or any; default what cameras offer: 3, 5, 7, 9, or a single frame where it suffices. */
  readonly counts?: readonly number[] | "any";
  /** Range that neighbouring frames are to share for a smooth blend [stops], 0 to 12; default 1. */
  readonly overlapStops?: number;
  /** What the camera meters, which the biases are counted from [EV100]; default: the middle of what the scene asks for. */
  readonly meteredEv100?: number;
  /** Whether the set must lie evenly about the metered exposure; default false: it may be shifted. */
  readonly symmetric?: boolean;
  /** Light that filters take away [stops], 0 to 40; default 0. */
  readonly attenuationStops?: number;
}

export interface BracketPlan {
  /** From the darkest frame to the brightest. */
  readonly frames: readonly BracketFrame[];
  readonly count: number;
  /** Step between frames [stops]; 0 for a single frame. */
  readonly stepStops: number;
  /** How far the middle of the set lies from the metered exposure [stops]; 0 where it is symmetric. */
  readonly shiftStops: number;
  /** What the frame without bias is exposed for [EV100]. */
  readonly baseEv100: number;
  /** Time at the camera, from the first opening of the shutter to its last closing [s]. */
  readonly totalSeconds: number;
  /** Range that the set holds [stops]. */
  readonly coverageStops: number;
  /** The part of the scene that the set holds [EV100]. */
  readonly coversEv100: readonly [low: number, high: number];
  readonly sceneRangeStops: number;
  readonly latitude: SensorLatitude;
  readonly reasons: readonly BracketReason[];
  readonly warnings: readonly BracketWarning[];
  readonly assumptions: readonly Assumption[];
}

// Rounding of thirds, and nothing else
const SLACK_STOPS = 1e-9;

// Longest time that core answers for, as in the exposure functions
const LONGEST_SECONDS = 1e7;

const ASSUMED_OVERLAP = { field: "overlapStops", value: 1, why: "a stop in common blends without a seam" } as const;

/**
 * Plan the fewest frames that hold a scene, from its darkest to its brightest part, by shutter time alone. A frame exposed for E holds E − footroom to
 * E + headroom; n frames at a step of s reach (n − 1)·s further. The base lies on a mark of the shutter dial where the scene leaves room for it.
 * @param request scene `shadowEv100` to `highlightEv100` [EV100]; `camera` with `aperture`, `iso`, latitude and pace; `stepStops` [stops] 0.3 to 3;
 *   `counts` each 1 to 99; `overlapStops` [stops]; `meteredEv100` [EV100]; `lightStopsPerMinute` [stops/min]; `subject` [px/s, px]
 * @returns the frames, dark to bright, what they hold, how long they take, why so many, and what may go wrong
 * @throws DomainError for values out of range; `impossible` where no allowed set holds the scene, saying what would, or a frame would take longer
 *   than 10,000,000 s
 * Source: (n − 1)·s is common practice; latitude as `sensorLatitude`. Accuracy: that of the latitude. Held by the golden rows `bracket` and
 * by coverage properties in tests/core/bracketing/bracket-plan.spec.ts.
 * @example planBracket({ shadowEv100: 3, highlightEv100: 16, camera: { aperture: 8, iso: 100 } }).count // 3
 */
export function planBracket(request: BracketRequest): BracketPlan {
  const { shadowEv100, highlightEv100, camera = {}, meteredEv100, symmetric = false } = request;
  requireEv100("shadowEv100", shadowEv100);
  requireEv100("highlightEv100", highlightEv100);
  if (highlightEv100 < shadowEv100) {
    throw new DomainError({ param: "highlightEv100", given: highlightEv100, allowed: "no less than shadowEv100" });
  }
  const assumptions: Assumption[] = [];
  const { aperture, iso, frameGapSeconds, fastest, longest } = readCamera(camera, assumptions);
  const latitude = sensorLatitude(camera, iso, assumptions, "camera.");
  const attenuationStops = requireInRange("attenuationStops", request.attenuationStops ?? 0, 0, 40, "stops");
  if (request.overlapStops === undefined) assumptions.push(ASSUMED_OVERLAP);
  const overlapStops = requireInRange("overlapStops", request.overlapStops ?? ASSUMED_OVERLAP.value, 0, 12, "stops");
  const latitudeStops = latitude.headroomStops + latitude.footroomStops;
  const sceneRangeStops = highlightEv100 - shadowEv100;

  // the darkest frame must hold the highlights, the brightest the shadows
  const darkest = highlightEv100 - latitude.headroomStops;
  const brightest = shadowEv100 + latitude.footroomStops;
  const travelStops = darkest - brightest;
  const stepWanted = request.stepStops === undefined ? undefined : readStep(request.stepStops);
  const perStop = stepWanted !== undefined && isHalf(stepWanted) ? 2 : 3;
  // EV100 of the settings at which the shutter is 1 s, log2(N²·100/S) less the filters: the dial has its marks in whole steps from there
  const dialZero = Math.log2((aperture * aperture * 100) / iso) + attenuationStops;
  const onDial = (ev100: number): number => dialZero + Math.round((ev100 - dialZero) * perStop) / perStop;
  const metered = meteredEv100 === undefined ? undefined : onDial(requireEv100("meteredEv100", meteredEv100));
  if (metered !== undefined && Math.abs(metered - (meteredEv100 as number)) > SLACK_STOPS) {
    assumptions.push({ field: "meteredEv100", value: metered, why: "rounded to the nearest mark of the shutter dial" });
  }
  const reach: Reach =
    metered !== undefined && symmetric
      ? { darker: Math.max(darkest - metered, 0), brighter: Math.max(metered - brightest, 0), baseIsFree: false }
      : { darker: travelStops, brighter: 0, baseIsFree: true };

  const largestStep = latitudeStops - overlapStops;
  const counts = readCounts(request.counts);
  const steps = stepWanted === undefined ? CAMERA_STEPS : [stepWanted];
  const choice = fewestFrames(reach, counts, steps, largestStep);
  if (choice === undefined) {
    throw cannotCover({ request, reach, steps, largestStep, counts, sceneRangeStops, latitudeStops });
  }
  const { count } = choice;
  // frames that the scene does not ask for are spread as is common, a stop apart
  const spare = stepWanted === undefined && count > 1 && travelStops <= 0;
  const stepStops = spare ? Math.max(choice.stepStops, Math.min(1, largestStep)) : choice.stepStops;

  const dark = framesDarker(count);
  const bright = count - 1 - dark;
  // where the frame without bias may lie, if the scene is to be held
  const lowest = darkest - dark * stepStops;
  const highest = brightest + bright * stepStops;
  const { baseEv100, shiftStops, onMarks } =
    metered === undefined ? freeBase(lowest, highest, onDial) : shiftedBase(metered, lowest, highest);
  const offMarks = !onMarks || Math.abs(stepStops * perStop - Math.round(stepStops * perStop)) > 1e-6;

  const longestSeconds = 2 ** (dialZero - baseEv100 + shiftStops + bright * stepStops);
  if (!(longestSeconds <= LONGEST_SECONDS)) {
    const allowed = "a scene, aperture, ISO and filters that ask for at most 10,000,000 s";
    throw new DomainError({ code: "impossible", param: "shadowEv100", given: shadowEv100, allowed });
  }
  const frames = layFrames({
    count,
    stepStops,
    shiftStops,
    baseEv100,
    dialZero,
    latitude,
    series: perStop === 2 ? "half" : "third",
  });
  let totalSeconds = (count - 1) * frameGapSeconds;
  for (const { shutterSeconds } of frames) totalSeconds += shutterSeconds;

  const low = (frames[count - 1] as BracketFrame).coversEv100[0];
  const high = (frames[0] as BracketFrame).coversEv100[1];
  return {
    frames,
    count,
    stepStops,
    shiftStops,
    baseEv100,
    totalSeconds,
    coverageStops: high - low,
    coversEv100: [low, high],
    sceneRangeStops,
    latitude,
    reasons: planReasons({
      count,
      stepStops,
      shiftStops,
      sceneRangeStops,
      latitude,
      travelStops,
      reach,
      counts,
      steps,
      largestStep,
    }),
    warnings: planWarnings({ frames, totalSeconds, frameGapSeconds, fastest, longest, offMarks, request }),
    assumptions,
  };
}

/** Where the frame without bias lies [EV100], and by how much the set is shifted from it [stops]. */
interface Base {
  readonly baseEv100: number;
  readonly shiftStops: number;
  /** Whether the base, or the shift, lies on a mark of the dial. */
  readonly onMarks: boolean;
}

const isWithin = (ev100: number, lowest: number, highest: number): boolean =>
  ev100 >= lowest - SLACK_STOPS && ev100 <= highest + SLACK_STOPS;

/** Where nothing was metered: the mark nearest to the middle of what holds the scene, or that middle. */
function freeBase(lowest: number, highest: number, onDial: (ev100: number) => number): Base {
  const middle = (lowest + highest) / 2;
  const mark = onDial(middle);
  const onMarks = isWithin(mark, lowest, highest);
  return { baseEv100: onMarks ? mark : middle, shiftStops: 0, onMarks };
}

/** Where the camera metered: that, with the smallest compensation that holds the scene. Compensation goes by thirds too. */
function shiftedBase(metered: number, lowest: number, highest: number): Base {
  if (isWithin(metered, lowest, highest)) return { baseEv100: metered, shiftStops: 0, onMarks: true };
  const least = metered - highest;
  const most = metered - lowest;
  const third = least > 0 ? Math.ceil(least * 3 - SLACK_STOPS) / 3 : Math.floor(most * 3 + SLACK_STOPS) / 3;
  const onMarks = isWithin(metered - third, lowest, highest);
  return { baseEv100: metered, shiftStops: onMarks ? third : (least + most) / 2, onMarks };
}

/** Whether a step goes by halves and not by thirds. */
function isHalf(stepStops: number): boolean {
  return Number.isInteger(stepStops * 2) && !Number.isInteger(stepStops);
}

/** The counts allowed, ascending. */
function readCounts(counts: BracketRequest["counts"]): readonly number[] | "any" {
  if (counts === undefined) return CAMERA_COUNTS;
  if (counts === "any") return counts;
  if (counts.length === 0) throw new DomainError({ param: "counts", given: counts, allowed: "at least one count" });
  for (let i = 0; i < counts.length; i++) {
    const count = counts[i] as number;
    if (!(Number.isInteger(count) && count >= 1 && count <= MOST_FRAMES)) {
      throw new DomainError({ param: `counts.${i}`, given: count, allowed: `whole numbers from 1 to ${MOST_FRAMES}` });
    }
  }
  return [...counts].sort((a, b) => a - b);
}
