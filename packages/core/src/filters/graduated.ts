import { DomainError, requireInRange } from "../domain-error";
import type { FrameProjection } from "../framing/projection";
import type { SkylineInFrame, StraightLine } from "../framing/skyline";
import type { Assumption } from "../notes";
import type { SkyPoint } from "../sky/sky-types";
import type { GraduatedFilter, GraduatedTransition } from "./filter";
import { type GraduatedAtHand, graduatedAtHand, MARKETED_STRENGTHS, takeGraduated } from "./graduated-at-hand";
import {
  type DarkenedThing,
  darkenedObstacles,
  darkenedPeak,
  type GraduatedObstacle,
  SHOWS_FROM_STOPS,
} from "./graduated-cost";
import { graduatedEdges } from "./graduated-edge";
import { CONSIDERED_FROM_STOPS, NATURAL_RESIDUAL_STOPS, nearestStrength } from "./graduated-strength";
import { edgeSoftness } from "./graduated-transition";

export type { DarkenedThing, GraduatedObstacle } from "./graduated-cost";

export type GraduatedFit = "fits" | "fits-with-cost" | "does-not-fit" | "not-needed";

export type GraduatedReasonCode =
  | "contrast-small"
  | "contrast-asks"
  | "sky-stays-brighter"
  | "no-strength-at-hand"
  | "over-still-water"
  | "skyline-straight"
  | "skyline-wavy"
  | "skyline-uneven"
  | "no-skyline"
  | "no-transition-at-hand"
  | "sun-on-the-line"
  | "darkens-across-the-line"
  | "too-much-across-the-line"
  | "use-a-bracket";

/** One step of the reasoning. */
export interface GraduatedReason {
  readonly code: GraduatedReasonCode;
  readonly text: string;
}

/** How to set the filter. */
export interface GraduatedSetting {
  readonly stops: number;
  readonly density: number;
  /** As the filter is marked. */
  readonly mark: string;
  readonly transition: GraduatedTransition;
  /** Where its middle goes, in the middle of the frame: 0 at the top edge, 1 at the bottom. */
  readonly position: number;
  /** How far it is turned [deg], clockwise positive. */
  readonly tiltDeg: number;
}

export interface GraduatedRequest {
  readonly skyline: SkylineInFrame;
  /** The map between directions and points of the frame, as `frameProjection` makes it. */
  readonly projection: FrameProjection;
  /** The sky in the frame over the ground that the photograph shows [stops], -40 to 40. */
  readonly contrastStops: number;
  /** How much brighter than the ground the sky should stay [stops], 0 to 10; default 1. */
  readonly residualStops?: number | undefined;
  /** How much darker than the sky its reflection in still water is [stops]; absent where the water in the frame, if any, cannot be still. */
  readonly reflectionStops?: number | undefined;
  /** Apparent azimuth and altitude [deg]; it decides on a reverse filter. */
  readonly sun?: SkyPoint | undefined;
  /** Things that stand across the skyline, up to 50. */
  readonly obstacles?: readonly GraduatedObstacle[] | undefined;
  /** What is in the bag, up to 50; default: each marketed strength in each transition. */
  readonly available?: readonly GraduatedFilter[] | undefined;
}

export interface GraduatedAssessment {
  readonly kind: GraduatedFit;
  readonly contrastStops: number;
  /** What the contrast asks for [stops], 0 or more. */
  readonly wantedStops: number;
  /** Null unless a filter fits, at a cost or without. */
  readonly filter: GraduatedSetting | null;
  /** The straight line that lies nearest to the skyline; null where it does not cross the frame. */
  readonly line: StraightLine | null;
  /** What the filter darkens that is not sky, worst first. */
  readonly darkens: readonly DarkenedThing[];
  readonly reasons: readonly GraduatedReason[];
  readonly assumptions: readonly Assumption[];
}

const STOPS_PER_DENSITY = Math.log2(10);
const MOST_OBSTACLES = 50;

// Our own choice: where things that are darkened by more than half of the filter stand across more than a third of the
// frame, the filter spoils more than it saves
const TOO_WIDE_PERCENT = 35;

/**
 * Assess whether a graduated filter fits this frame, which one, where it goes, and what it costs.
 *
 * It asks three things in order: whether the contrast wants one and how strong; whether the skyline is straight enough
 * for its edge, the sharpest that does not show on it; and what stands up into the dark part. A filter is never so strong that the
 * sky becomes darker than the ground.
 * @param request skyline in the frame, projection, contrast [stops], sun [deg], obstacles as angular boxes [deg], the bag
 * @returns `fits`, `fits-with-cost` with what gets darkened and by how much [stops], `does-not-fit` (use a bracket), or
 * `not-needed`, always with reasons
 * @throws DomainError for values out of range
 * Source: strength by common practice; the limits of straightness, the ramps and what counts as a cost are our own.
 * Held by the golden rows `grad` and tests/core/filters/graduated.spec.ts.
 * @example assessGraduated({ skyline, projection, contrastStops: 5 }).filter // 4 stops, hard, over a sea horizon
 */
export function assessGraduated(request: GraduatedRequest): GraduatedAssessment {
  const { skyline, projection, obstacles = [] } = request;
  const contrastStops = requireInRange("contrastStops", request.contrastStops, -40, 40, "stops");
  const assumptions: Assumption[] = [];
  const residualStops = residualOf(request, assumptions);
  const candidates = graduatedAtHand(request.available, assumptions);
  if (obstacles.length > MOST_OBSTACLES) {
    throw new DomainError({ param: "obstacles", given: obstacles.length, allowed: `up to ${MOST_OBSTACLES} things` });
  }
  const { line } = skyline;
  const wantedStops = Math.max(0, contrastStops - residualStops);
  const reasons: GraduatedReason[] = [];
  const because = (code: GraduatedReasonCode, text: string): void => {
    reasons.push({ code, text });
  };
  const answer = (kind: GraduatedFit, filter: GraduatedSetting | null, darkens: readonly DarkenedThing[] = []) => ({
    kind,
    contrastStops,
    wantedStops,
    filter,
    line,
    darkens,
    reasons,
    assumptions,
  });
  const bracket = (darkens: readonly DarkenedThing[] = []): GraduatedAssessment => {
    because("use-a-bracket", "Bracket, and blend the frames along the true skyline.");
    return answer("does-not-fit", null, darkens);
  };

  const isSmall = request.residualStops === undefined && contrastStops < CONSIDERED_FROM_STOPS;
  if (isSmall || nearestStrength(contrastStops, residualStops, [...MARKETED_STRENGTHS, ...candidates]) === undefined) {
    because(
      "contrast-small",
      `The sky is ${stops(contrastStops)} brighter than the ground; up to ${stops(isSmall ? CONSIDERED_FROM_STOPS : residualStops)} looks natural.`,
    );
    return answer("not-needed", null);
  }
  because(
    "contrast-asks",
    `The sky is ${stops(contrastStops)} brighter than the ground; to leave it ${stops(residualStops)} takes ${stops(wantedStops)}.`,
  );
  if (line === null) {
    because("no-skyline", "No skyline crosses the frame to lay a filter along.");
    return bracket();
  }
  const stray = `The skyline strays ${line.residualRmsPercent.toFixed(1)} % of the frame's height from a straight line`;
  const strengths = candidates.map((one) => one.stops);
  const laidStops = nearestStrength(contrastStops, residualStops, candidates)?.stops ?? Math.min(...strengths);
  const allowed = graduatedEdges(request, line, laidStops);
  if (allowed.length === 0) {
    because("skyline-uneven", `${stray}, more than even a soft filter hides.`);
    return bracket();
  }
  if (allowed[0] === "reverse") {
    because("sun-on-the-line", "The sun's glow lies along the line: a reverse filter is darkest there.");
  }
  const wavy = allowed[0] === "medium" || allowed[0] === "soft";
  because(
    wavy ? "skyline-wavy" : "skyline-straight",
    wavy ? `${stray}: a hard edge would show on it.` : `${stray}: straight enough for a hard edge.`,
  );
  const overWater = withinReflection(candidates, request.reflectionStops);
  if (overWater.length < candidates.length) {
    because("over-still-water", "A stronger filter would leave the reflection in still water brighter than the sky.");
  }
  const taken = takeGraduated(overWater, allowed, contrastStops, residualStops);
  if (taken === "no-transition" || taken === "no-strength") {
    because(
      taken === "no-transition" ? "no-transition-at-hand" : "no-strength-at-hand",
      taken === "no-transition"
        ? `No filter at hand has an edge that is soft enough: ${allowed.join(" or ")} would do.`
        : "Each filter at hand that fits the skyline is too strong for this contrast.",
    );
    return bracket();
  }
  const filter: GraduatedSetting = {
    stops: taken.stops,
    density: taken.stops / STOPS_PER_DENSITY,
    mark: taken.mark,
    transition: taken.transition,
    position: (line.yLeft + line.yRight) / 2,
    tiltDeg: line.tiltDeg,
  };
  because("sky-stays-brighter", `Through ${taken.mark} the sky stays ${stops(contrastStops - taken.stops)} brighter.`);

  const laid = { ...filter, softness: edgeSoftness(projection) };
  const things = [...darkenedPeak(skyline, line, laid), ...darkenedObstacles(obstacles, projection, line, laid)]
    .filter(({ maxStops }) => maxStops >= SHOWS_FROM_STOPS)
    .sort((a, b) => b.maxStops - a.maxStops);
  const wide = things
    .filter(({ what, maxStops }) => what === "obstacle" && maxStops > filter.stops / 2)
    .reduce((sum, { widthPercent }) => sum + widthPercent, 0);
  if (wide > TOO_WIDE_PERCENT) {
    because(
      "too-much-across-the-line",
      `What stands across the line takes ${Math.min(100, wide).toFixed(0)} % of the frame's width and would go dark.`,
    );
    return bracket(things);
  }
  if (things.length === 0) return answer("fits", filter);
  for (const { name, maxStops } of things) {
    because("darkens-across-the-line", `It darkens ${name} by up to ${stops(maxStops)}.`);
  }
  return answer("fits-with-cost", filter, things);
}

// Our own choice: a filter's soft edge leaves the low sky, which the water mirrors most, a little brighter than its mark says [stops]
const REFLECTION_SLACK_STOPS = 0.5;

/** Those that leave a reflection no brighter than the sky; all where none does, since there may be no water at all. */
function withinReflection(
  candidates: readonly GraduatedAtHand[],
  reflectionStops: number | undefined,
): readonly GraduatedAtHand[] {
  if (reflectionStops === undefined) return candidates;
  const weak = candidates.filter((one) => one.stops <= reflectionStops + REFLECTION_SLACK_STOPS);
  return weak.length === 0 ? candidates : weak;
}

function residualOf({ residualStops }: GraduatedRequest, assumptions: Assumption[]): number {
  if (residualStops === undefined) {
    const why = "a sky about a stop brighter than the ground looks natural";
    assumptions.push({ field: "residualStops", value: NATURAL_RESIDUAL_STOPS, why });
  }
  return requireInRange("residualStops", residualStops ?? NATURAL_RESIDUAL_STOPS, 0, 10, "stops");
}

function stops(value: number): string {
  const shown = (Math.round(value * 10) / 10 + 0).toFixed(1);
  return `${shown} ${shown === "1.0" ? "stop" : "stops"}`;
}
