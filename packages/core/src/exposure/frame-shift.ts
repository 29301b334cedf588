import { requireInRange, requirePositive } from "../domain-error";

/**
 * Compute how far the image of a moving thing shifts from one frame of a bracket to the next: from the middle of one exposure to the middle of the other.
 * @param pxPerSecond speed of the image [px/s], 0 or more
 * @param shutterSeconds shutter times in the order taken [s], each greater than 0
 * @param frameGapSeconds time between the end of one frame and the start of the next [s], 0 or more
 * @returns one shift for each neighbouring pair [px]
 * @throws DomainError outside those ranges
 * Source: uniform motion. Held by tests/core/exposure/motion.spec.ts.
 * @example frameToFrameDisplacementPx(10, [0.1, 0.3], 0.3) // [5]
 */
export function frameToFrameDisplacementPx(
  pxPerSecond: number,
  shutterSeconds: readonly number[],
  frameGapSeconds: number,
): number[] {
  requireInRange("pxPerSecond", pxPerSecond, 0, Number.MAX_VALUE, "px/s");
  requireInRange("frameGapSeconds", frameGapSeconds, 0, Number.MAX_VALUE, "s");
  const shifts: number[] = [];
  for (let i = 0; i < shutterSeconds.length; i++) {
    const here = requirePositive(`shutterSeconds.${i}`, shutterSeconds[i] as number, "s");
    if (i > 0) shifts.push(pxPerSecond * (frameGapSeconds + ((shutterSeconds[i - 1] as number) + here) / 2));
  }
  return shifts;
}
