import { findPeak } from "../roots";

const STEP_DEG = 2;

/** The rotations that are tried, half a turn of them: a polarizer turned by 180° is as it was. */
export const ROTATIONS_DEG: readonly number[] = Array.from({ length: 180 / STEP_DEG }, (_, i) => i * STEP_DEG);

// Rings of polarizers are turned by hand: finer than this nobody sets one
const TOLERANCE_DEG = 0.05;

/** The rotation [deg], 0 to 180, at which a gain is largest; 0 where it is the same at all. */
export function bestRotation(gain: (rotationDeg: number) => number): number {
  let best = 0;
  let highest = Number.NEGATIVE_INFINITY;
  let lowest = Number.POSITIVE_INFINITY;
  for (let deg = 0; deg < 180; deg += 3 * STEP_DEG) {
    const value = gain(deg);
    lowest = Math.min(lowest, value);
    if (value > highest) {
      highest = value;
      best = deg;
    }
  }
  if (highest - lowest < 1e-9) return 0;
  const peak = findPeak(gain, best - 3 * STEP_DEG, best + 3 * STEP_DEG, TOLERANCE_DEG);
  // near enough to a step of the dial to be one, so that rounding does not turn 0 into 180
  const dial = (((Math.round(peak * 10) / 10) % 180) + 180) % 180;
  return dial + 0;
}

/** The angle between two rotations [deg], 0 to 90. */
export function rotationsApartDeg(a: number, b: number): number {
  const apart = Math.abs(a - b) % 180;
  return Math.min(apart, 180 - apart);
}
