/** Work in steps, done at one go. */
export function atOneGo<T>(steps: Generator<undefined, T>): T {
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
}

/**
 * Work in steps, something else having its turn between two slices of it.
 *
 * @param stepsAtATime how many steps make a slice, a whole number from 1
 * @param othersTurn waited for after each slice but the last; what it throws ends the work
 * @returns what the work comes to
 * @throws what the work throws
 * @example
 * const scan = scanHorizonStepwise([sea], place, { radiusM: 20_000 });
 * await inSlices(scan, 240, () => new Promise((resume) => setTimeout(resume))); // { azimuthsDeg: [0, 0.25, … 359.75], … }
 */
export async function inSlices<T>(
  steps: Generator<undefined, T>,
  stepsAtATime: number,
  othersTurn: () => Promise<unknown>,
): Promise<T> {
  for (let count = 1; ; count++) {
    const step = steps.next();
    if (step.done) return step.value;
    if (count % stepsAtATime === 0) await othersTurn();
  }
}
