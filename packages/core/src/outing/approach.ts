import { type BracketSet, type BracketSets, smallestSet, travelOf, widestSet } from "../bracketing/bracket-set";
import type { SensorLatitude } from "../bracketing/latitude";
import type { GraduatedTransition } from "../filters/filter";
import { type ApproachReason, reason } from "./approach-reasons";
import { exposuresHolding, heldAtAPush, heldWell, roomStops } from "./frame-limits";
import type { SceneTones } from "./scene-tones";

export type ApproachKind =
  | "single"
  | "single-or-bracket"
  | "graduated"
  | "bracket"
  | "graduated-and-bracket"
  | "beyond-one-set";

/** A graduated filter that fits the frame. */
export interface GraduatedChoice {
  readonly stops: number;
  readonly transition: GraduatedTransition;
  /** As the filter is marked. */
  readonly mark: string;
  /** How far the filter is turned to lie along the skyline [deg], clockwise positive. */
  readonly tiltDeg: number;
}

/** The set of a bracket, and the exposure of its middle frame. */
export interface ChosenSet extends BracketSet {
  readonly middleEv100: number;
}

export interface Approach {
  readonly kind: ApproachKind;
  /** Room left inside what the approach's frame holds well [stops]; negative beyond. */
  readonly marginStops: number;
  readonly reasons: readonly ApproachReason[];
  readonly graduated?: GraduatedChoice;
  readonly set?: ChosenSet;
  /** What one frame is exposed for, or the middle one of the set [EV100]. */
  readonly exposeForEv100: number;
  /** The same if one frame is taken alone [EV100]. */
  readonly oneFrameEv100: number;
  /** What a single frame is exposed for that keeps the highlights, as a long exposure [EV100]. */
  readonly keepsHighlightsEv100: number;
  /** The tones, once a graduated filter has darkened the sky. */
  readonly tones: SceneTones;
}

export interface ApproachRequest {
  readonly tones: SceneTones;
  readonly latitude: SensorLatitude;
  readonly sets: BracketSets;
  /**
   * The graduated filter of the bag that fits, or why none does; asked only where the scene wants one.
   */
  readonly graduated: () =>
    | { readonly choice: GraduatedChoice; readonly notes?: readonly ApproachReason[] }
    | { readonly why: ApproachReason };
}

// Common practice: from about this difference between sky and ground on a graduated filter is thought of
const GRADUATED_FROM_STOPS = 2;
// Common practice: a night is kept about a stop under the meter
const NIGHT_UNDER_STOPS = 1;

/**
 * Choose how to hold a scene: one frame, one frame or a bracket to be safe, a graduated filter, a bracket, both, or more than a set can do.
 *
 * One frame is advised only where it holds the scene well by at least what the levels may be off by. Where it holds it with less room, or at a push, a
 * graduated filter that fits comes first, else a bracket to be safe. The sun in the frame always asks for a set.
 * Source: the limits as in frame-limits.ts; the order of choices is common practice.
 */
export function chooseApproach(request: ApproachRequest): Approach {
  const { tones, latitude } = request;
  const well = roomStops(exposuresHolding(tones, heldWell(latitude, tones)));
  const contrast = tones.skyEv100 - tones.groundEv100;
  if (!tones.sunInFrame && well >= tones.uncertaintyStops) return oneFrame(request, well);
  const skyWantsIt = tones.skyInFrame && !tones.night && contrast >= GRADUATED_FROM_STOPS;
  const found = skyWantsIt ? request.graduated() : undefined;
  if (found !== undefined && "choice" in found) return throughFilter(request, found.choice, found.notes);
  return withoutFilter(request, found?.why);
}

function oneFrame({ tones, latitude }: ApproachRequest, well: number): Approach {
  const range = exposuresHolding(tones, heldWell(latitude, tones));
  const wanted = tones.night ? tones.groundEv100 + NIGHT_UNDER_STOPS : nearSkyKept(tones.groundEv100, tones, latitude);
  const exposeForEv100 = clamp(wanted, range.brightestEv100, range.darkestEv100);
  return {
    kind: "single",
    marginStops: well,
    reasons: [tones.night ? reason("night-kept-dark", tones, well) : reason("one-frame-is-enough", tones, well)],
    exposeForEv100,
    oneFrameEv100: exposeForEv100,
    keepsHighlightsEv100: keepsHighlights(exposeForEv100, tones, latitude),
    tones,
  };
}

function throughFilter(
  request: ApproachRequest,
  graduated: GraduatedChoice,
  notes: readonly ApproachReason[] = [],
): Approach {
  const tones = darkenSky(request.tones, graduated.stops);
  const single = heldBySingle({ ...request, tones });
  const filter = [reason("graduated-fits", request.tones, graduated.stops, graduated), ...notes];
  const enough = single.push >= 0 && !tones.sunInFrame;
  const { oneFrameEv100, keepsHighlightsEv100 } = single;
  const shared = { marginStops: single.well, graduated, tones, oneFrameEv100, keepsHighlightsEv100 };
  if (enough) {
    return { ...shared, kind: "graduated", reasons: filter, exposeForEv100: oneFrameEv100 };
  }
  const why = tones.sunInFrame ? reason("sun-in-frame", tones, 0) : reason("graduated-not-enough", tones, -single.push);
  const set = setFor({ ...request, tones });
  if (set.short > 0) return beyond({ ...request, tones }, [...filter, why], set.chosen, single, graduated);
  return {
    ...shared,
    kind: "graduated-and-bracket",
    reasons: [...filter, why],
    set: set.chosen,
    exposeForEv100: set.chosen.middleEv100,
  };
}

function withoutFilter(request: ApproachRequest, why: ApproachReason | undefined): Approach {
  const { tones } = request;
  const single = heldBySingle(request);
  const set = setFor(request);
  const filterless = why === undefined ? [] : [why];
  if (single.push >= 0 && !tones.sunInFrame) {
    const code = single.well >= 0 ? "one-frame-may-do" : "one-frame-at-a-push";
    const chosen = set.short > 0 ? undefined : around(set.chosen, single.oneFrameEv100, request);
    return {
      kind: "single-or-bracket",
      marginStops: single.well,
      reasons: [reason(code, tones, single.well), ...filterless],
      ...(chosen === undefined ? {} : { set: chosen }),
      exposeForEv100: chosen?.middleEv100 ?? single.oneFrameEv100,
      oneFrameEv100: single.oneFrameEv100,
      keepsHighlightsEv100: single.keepsHighlightsEv100,
      tones,
    };
  }
  const first = tones.sunInFrame ? reason("sun-in-frame", tones, 0) : reason("beyond-one-frame", tones, -single.push);
  if (set.short > 0) return beyond(request, [first, ...filterless], set.chosen, single);
  return {
    kind: "bracket",
    marginStops: single.well,
    reasons: [first, ...filterless],
    set: set.chosen,
    exposeForEv100: set.chosen.middleEv100,
    oneFrameEv100: single.oneFrameEv100,
    keepsHighlightsEv100: single.keepsHighlightsEv100,
    tones,
  };
}

function beyond(
  request: ApproachRequest,
  reasons: readonly ApproachReason[],
  set: ChosenSet,
  single: SingleFrame,
  graduated?: GraduatedChoice,
): Approach {
  return {
    kind: "beyond-one-set",
    marginStops: single.well,
    reasons: [...reasons, reason("shadows-give-way", request.tones, setFor(request).short)],
    ...(graduated === undefined ? {} : { graduated }),
    set,
    exposeForEv100: set.middleEv100,
    oneFrameEv100: single.oneFrameEv100,
    keepsHighlightsEv100: single.keepsHighlightsEv100,
    tones: request.tones,
  };
}

interface SingleFrame {
  /** Room within what is held well, and at a push [stops]. */
  readonly well: number;
  readonly push: number;
  readonly oneFrameEv100: number;
  readonly keepsHighlightsEv100: number;
}

/** One frame of a scene: as the ground is metered, no brighter than the highlights bear. */
function heldBySingle({ tones, latitude }: ApproachRequest): SingleFrame {
  const well = exposuresHolding(tones, heldWell(latitude, tones));
  const push = exposuresHolding(tones, heldAtAPush(latitude));
  // the sky is held well as long as the shadows can be lifted, and at a push beyond
  const forSky = Math.min(well.brightestEv100, Math.max(push.darkestEv100, push.brightestEv100));
  const metered = Math.max(Math.min(tones.groundEv100, push.darkestEv100), forSky);
  const oneFrameEv100 = nearSkyKept(metered, tones, latitude);
  return {
    well: roomStops(well),
    push: roomStops(push),
    oneFrameEv100,
    keepsHighlightsEv100: keepsHighlights(oneFrameEv100, tones, latitude),
  };
}

// Our own choice: what a sky that is not in the frame may cost the ground
const NEAR_SKY_COSTS_STOPS = 1;

/**
 * A frame that just misses the sky is soon tilted up a little: the sky over it is kept from burning out where that costs no more than a stop.
 */
function nearSkyKept(ev100: number, { skyInFrame, skyEv100 }: SceneTones, { headroomStops }: SensorLatitude): number {
  if (skyInFrame) return ev100;
  return Math.max(ev100, Math.min(skyEv100 - headroomStops, ev100 + NEAR_SKY_COSTS_STOPS));
}

/** What keeps the highlights of a scene in one frame, and a sky just over it as far as the chosen exposure does. */
function keepsHighlights(chosenEv100: number, tones: SceneTones, latitude: SensorLatitude): number {
  const { brightestEv100 } = exposuresHolding(tones, heldAtAPush(latitude));
  if (tones.skyInFrame) return brightestEv100;
  return Math.max(brightestEv100, Math.min(tones.skyEv100 - latitude.headroomStops, chosenEv100));
}

/** The smallest set that holds both ends well, with what the levels may be off by; where none does, the widest, and how much it lacks [stops]. */
function setFor({ tones, latitude, sets }: ApproachRequest): { readonly chosen: ChosenSet; readonly short: number } {
  const { aboveStops, belowStops } = heldWell(latitude, tones);
  const highEv100 = Math.max(tones.brightestEv100, tones.brightestGroundEv100) + tones.uncertaintyStops;
  const darkestFrame = highEv100 - aboveStops;
  const brightestFrame = tones.darkestEv100 - tones.uncertaintyStops + belowStops;
  const travel = darkestFrame - brightestFrame;
  const set = smallestSet(sets, travel, tones.sunInFrame);
  if (set === undefined) {
    const widest = widestSet(sets);
    // highlights cannot be mended, shadows can be given up
    return {
      chosen: { ...widest, middleEv100: darkestFrame - travelOf(widest) / 2 },
      short: travel - travelOf(widest),
    };
  }
  const half = travelOf(set) / 2;
  const middleEv100 = clamp(
    tones.groundEv100,
    darkestFrame - half,
    Math.max(darkestFrame - half, brightestFrame + half),
  );
  return { chosen: { ...set, middleEv100 }, short: 0 };
}

/** The same set with the single frame in its middle, as far as both ends stay held. */
function around(set: ChosenSet, exposeForEv100: number, { tones, latitude }: ApproachRequest): ChosenSet {
  const { aboveStops, belowStops } = heldWell(latitude, tones);
  const half = travelOf(set) / 2;
  const high = Math.max(tones.brightestEv100, tones.brightestGroundEv100) + tones.uncertaintyStops;
  const low = tones.darkestEv100 - tones.uncertaintyStops;
  return { ...set, middleEv100: clamp(exposeForEv100, high - aboveStops - half, low + belowStops + half) };
}

function darkenSky(tones: SceneTones, filterStops: number): SceneTones {
  return {
    ...tones,
    skyEv100: tones.skyEv100 - filterStops,
    brightestEv100: tones.brightestEv100 - filterStops,
  };
}

function clamp(value: number, low: number, high: number): number {
  return Math.max(low, Math.min(value, Math.max(low, high)));
}
