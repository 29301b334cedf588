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
// dark, its middle on the line. It grows with the aperture's number and shrinks with the focal length; this is a wide
// angle at f/11.
const RAMP_PERCENT: Readonly<Record<GraduatedTransition, number>> = { hard: 8, reverse: 8, medium: 20, soft: 45 };

// Our own estimate: a reverse filter fades from its full strength at the line to half of it at the top
const REVERSE_TOP_SHARE = 0.5;

/**
 * Compute the share of a graduated filter's strength at a height over its line.
 * @param abovePercent over the line [per cent of the frame's height], below it negative
 * @returns [1], 0 to 1
 */
export function graduatedShare(transition: GraduatedTransition, abovePercent: number): number {
  const ramp = RAMP_PERCENT[transition];
  const along = Math.max(0, Math.min(1, abovePercent / ramp + 0.5));
  // smooth at both ends
  const share = along * along * (3 - 2 * along);
  if (transition !== "reverse" || abovePercent <= ramp / 2) return share;
  return 1 - (1 - REVERSE_TOP_SHARE) * Math.min(1, (abovePercent - ramp / 2) / (100 - ramp));
}
