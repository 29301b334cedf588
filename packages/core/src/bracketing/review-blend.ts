import type { FrameReading, ReadingRules } from "./frame-reading";
import type { SceneReading } from "./scene-reading";
import { evText, stopsText } from "./stops-text";

// Bins are coarse and levels are read from them: a tenth of a stop of shadow or of overlap is no reason for another frame
const SLACK_STOPS = 0.1;

/**
 * The fewest frames that hold a scene, by place in `sorted` (which goes from the darkest to the brightest): first the brightest that holds the highlights,
 * then each time the brightest that shares `overlapStops` with the one before. Where no frame shares so much, the next brighter one.
 */
export function chooseFrames(sorted: readonly FrameReading[], scene: SceneReading, overlapStops: number): number[] {
  let place = scene.topPlace;
  const chosen = [place];
  for (;;) {
    const { floorStops, biasStops } = sorted[place] as FrameReading;
    if (floorStops <= scene.shadowStops + SLACK_STOPS) return chosen;
    const shares = (frame: FrameReading, i: number): boolean =>
      i > place && frame.biasStops > biasStops && frame.clipStops >= floorStops + overlapStops - SLACK_STOPS;
    // of those that reach the shadows the darkest: it smears least
    const reaching = sorted.findIndex(
      (frame, i) => shares(frame, i) && frame.floorStops <= scene.shadowStops + SLACK_STOPS,
    );
    let next = reaching;
    if (next < 0) next = sorted.findLastIndex(shares);
    if (next < 0) next = sorted.findIndex((frame, i) => i > place && frame.biasStops > biasStops);
    if (next < 0) return chosen;
    chosen.push(next);
    place = next;
  }
}

export type MissingFrameCode = "highlights-clip" | "shadows-blocked" | "gap";

/** A frame still to be taken. */
export interface MissingFrame {
  /** Bias against the same base exposure [stops]: one stop past the end of the set, or in the middle of a gap. */
  readonly biasStops: number;
  readonly code: MissingFrameCode;
  /** Why, for people. */
  readonly reason: string;
  /** Bias at which nothing more would be spoilt, if the spoilt share goes on falling as between the last two frames [stops]; null where that cannot be told. */
  readonly likelyBiasStops: number | null;
}

export function missingFrames(
  sorted: readonly FrameReading[],
  scene: SceneReading,
  chosen: readonly number[],
  rules: ReadingRules,
): MissingFrame[] {
  const missing: MissingFrame[] = [];
  const darkest = sorted[0] as FrameReading;
  const brightest = sorted[sorted.length - 1] as FrameReading;
  if (scene.clips) {
    const shares = sorted.map((frame) => ({ stops: frame.biasStops, percent: frame.clippedHighlightPercent }));
    missing.push({
      biasStops: darkest.biasStops - 1,
      code: "highlights-clip",
      reason: `At ${evText(darkest.biasStops)} ${percentText(darkest.clippedHighlightPercent)} still clips: one more at ${evText(darkest.biasStops - 1)}.`,
      likelyBiasStops: likelyBias(shares, rules.clippedShare * 100, -1),
    });
  }
  for (let i = 1; i < chosen.length; i++) {
    const dark = sorted[chosen[i - 1] as number] as FrameReading;
    const bright = sorted[chosen[i] as number] as FrameReading;
    const hole = dark.floorStops - bright.clipStops;
    if (hole <= 0) continue;
    const middle = Math.round(((dark.biasStops + bright.biasStops) / 2) * 3) / 3;
    missing.push({
      biasStops: middle,
      code: "gap",
      reason: `Between ${evText(dark.biasStops)} and ${evText(bright.biasStops)} ${stopsText(hole)} are in no frame: one more at ${evText(middle)}.`,
      likelyBiasStops: null,
    });
  }
  if (scene.blocks) {
    const shares = sorted.map((frame) => ({ stops: frame.biasStops, percent: frame.blockedShadowPercent })).reverse();
    missing.push({
      biasStops: brightest.biasStops + 1,
      code: "shadows-blocked",
      reason: `At ${evText(brightest.biasStops)} ${percentText(brightest.blockedShadowPercent)} is still black: one more at ${evText(brightest.biasStops + 1)}.`,
      likelyBiasStops: likelyBias(shares, rules.blockedShare * 100, 1),
    });
  }
  return missing;
}

function percentText(percent: number): string {
  return `${Number(percent.toPrecision(2))} %`;
}

// A share that would take longer than this to vanish is no part of the scene that frames can catch: a lamp, or the sun
const FURTHEST_STOPS = 6;

/**
 * Where the spoilt share would fall to what is tolerated, if it went on falling as from the second frame to the first, which is at the end of the
 * set; rounded outward to whole stops.
 */
function likelyBias(
  shares: readonly { readonly stops: number; readonly percent: number }[],
  tolerated: number,
  direction: 1 | -1,
): number | null {
  const [end] = shares;
  const before = shares.find(({ stops }) => end !== undefined && Math.abs(stops - end.stops) > 0.1);
  if (end === undefined || before === undefined) return null;
  const fallPerStop = (before.percent - end.percent) / Math.abs(end.stops - before.stops);
  const further = (end.percent - tolerated) / fallPerStop;
  if (!(further > 0 && further <= FURTHEST_STOPS)) return null;
  return end.stops + direction * Math.ceil(further);
}

/** How well two neighbouring frames agree with the difference of their biases. */
export interface Alignment {
  readonly fromBiasStops: number;
  readonly toBiasStops: number;
  /** How much brighter the second frame is than its bias says [stops], in the middle of what both hold; null where they share too little. */
  readonly errorStops: number | null;
  /** How much that differs between dark and bright parts [stops]: a tone curve; null where they share too little. */
  readonly spreadStops: number | null;
}

// Shares of the picture at which two frames are compared, and how many of them both must hold
const PROBES: readonly number[] = [0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95];
const FEWEST_PROBES = 3;

export function alignmentOf(sorted: readonly FrameReading[]): Alignment[] {
  const alignments: Alignment[] = [];
  for (let i = 1; i < sorted.length; i++) {
    const dark = sorted[i - 1] as FrameReading;
    const bright = sorted[i] as FrameReading;
    // levels are already moved by the biases, so they should agree
    const errors = PROBES.flatMap((share) => {
      const a = dark.levelBelowWhich(share);
      const b = bright.levelBelowWhich(share);
      return a === undefined || b === undefined ? [] : [b - a];
    }).sort((a, b) => a - b);
    const told = errors.length >= FEWEST_PROBES;
    alignments.push({
      fromBiasStops: dark.biasStops,
      toBiasStops: bright.biasStops,
      errorStops: told ? (errors[errors.length >> 1] as number) : null,
      spreadStops: told ? (errors.at(-1) as number) - (errors[0] as number) : null,
    });
  }
  return alignments;
}
