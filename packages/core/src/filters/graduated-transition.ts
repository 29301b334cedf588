import { tanDeg } from "../angles";
import type { FrameProjection } from "../framing/projection";
import type { GraduatedTransition } from "./filter";

// Our own choice, no source: how far a skyline may stray from a straight line [per cent of the frame's height], root mean square,
// before the soft edge of a filter of each kind shows on what stands across it.
export const LARGEST_STRAY_PERCENT: Readonly<Record<GraduatedTransition, number>> = {
  hard: 2,
  reverse: 2,
  medium: 4,
  soft: 7,
};

// Our own estimate, no source: how much of the frame's height [per cent] a filter of each kind takes from clear to
// dark, its middle on the line, on a lens that sees 53° from top to bottom, as 24 mm on full frame does. How small apertures sharpen it is left out.
const RAMP_PERCENT: Readonly<Record<GraduatedTransition, number>> = { hard: 8, reverse: 8, medium: 20, soft: 45 };

// Our own estimate: a reverse filter fades from its full strength at the line to half of it at the top
const REVERSE_TOP_SHARE = 0.5;

const USUAL_HALF_HEIGHT = 0.5;
const SOFTEST = 6;

/**
 * Compute how many times as wide a filter's edge looks in a frame as on a wide angle: the longer the lens, the smaller the part of the filter that it looks
 * through.
 * @returns [1], at most 6; 1 on a lens that sees 53° from top to bottom
 * Source: similar triangles between filter and frame; that long lenses soften a hard edge is common practice.
 */
export function edgeSoftness({ toSky }: Pick<FrameProjection, "toSky">): number {
  const highDeg = toSky(0.5, 0).altitudeDeg - toSky(0.5, 1).altitudeDeg;
  return Math.min(SOFTEST, USUAL_HALF_HEIGHT / Math.max(1e-3, tanDeg(Math.abs(highDeg) / 2)));
}

/** The farthest that a skyline may stray from a straight line for a transition, in a frame of that {@link edgeSoftness} [per cent of its height, rms]. */
export function largestStrayPercent(transition: GraduatedTransition, softness: number): number {
  // a skyline that strays farther fills the frame with hills, whatever the edge
  return Math.min(LARGEST_STRAY_PERCENT.soft * 2, LARGEST_STRAY_PERCENT[transition] * softness);
}

/**
 * Compute the share of a graduated filter's strength at a height over its line.
 * @param abovePercent over the line [per cent of the frame's height], below it negative
 * @param softness of the edge in this frame, as {@link edgeSoftness}; default 1
 * @returns [1], 0 to 1
 */
export function graduatedShare(transition: GraduatedTransition, abovePercent: number, softness = 1): number {
  const ramp = Math.min(100, RAMP_PERCENT[transition] * softness);
  const along = Math.max(0, Math.min(1, abovePercent / ramp + 0.5));
  // smooth at both ends
  const share = along * along * (3 - 2 * along);
  if (transition !== "reverse" || abovePercent <= ramp / 2) return share;
  return 1 - (1 - REVERSE_TOP_SHARE) * Math.min(1, (abovePercent - ramp / 2) / Math.max(1, 100 - ramp));
}
