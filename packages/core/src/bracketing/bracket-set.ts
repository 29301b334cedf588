import { DomainError } from "../domain-error";

/** The sets that a camera can take. */
export interface BracketingInput {
  /** Odd, from 3 to 9. */
  readonly counts?: readonly number[] | undefined;
  /** Between frames [stops], 0.3 to 3. */
  readonly stepsStops?: readonly number[] | undefined;
}

/** The sets to choose from, fewest frames first; steps are whole stops. */
export interface BracketSets {
  readonly counts: readonly number[];
  readonly stepsStops: readonly number[];
}

export interface BracketSet {
  readonly count: number;
  readonly stepStops: number;
}

// Common practice: what cameras offer for automatic brackets, and the steps that photographers use of it
const USUAL: BracketSets = { counts: [3, 5, 7, 9], stepsStops: [1, 2] };
const COUNTS = [3, 5, 7, 9];
const STEP_RANGE = [0.3, 3] as const;

/**
 * Read the sets that a camera can take; steps that are no whole stops are left out, as nobody blends by thirds.
 * @param param where the input stands in the request, for errors
 * @throws DomainError for a count that is not 3, 5, 7 or 9, a step out of range, or no whole step at all
 */
export function readBracketing(input: BracketingInput | undefined, param = "camera.bracketing"): BracketSets {
  const counts = input?.counts ?? USUAL.counts;
  const steps = input?.stepsStops ?? USUAL.stepsStops;
  if (counts.length === 0) throw new DomainError({ param: `${param}.counts`, given: 0, allowed: "one count or more" });
  for (const [i, count] of counts.entries()) {
    if (COUNTS.includes(count)) continue;
    throw new DomainError({ param: `${param}.counts.${i}`, given: count, allowed: "3, 5, 7 or 9" });
  }
  for (const [i, step] of steps.entries()) {
    if (step >= STEP_RANGE[0] && step <= STEP_RANGE[1]) continue;
    const allowed = `${STEP_RANGE[0]} to ${STEP_RANGE[1]}`;
    throw new DomainError({ param: `${param}.stepsStops.${i}`, given: step, allowed, unit: "stops" });
  }
  const whole = steps.filter((step) => Number.isInteger(step));
  if (whole.length === 0) {
    const allowed = "at least one whole step: 1, 2 or 3";
    throw new DomainError({ param: `${param}.stepsStops`, given: steps.join(", "), allowed, unit: "stops" });
  }
  const ascending = (values: readonly number[]): number[] => [...new Set(values)].sort((a, b) => a - b);
  return { counts: ascending(counts), stepsStops: ascending(whole) };
}

/** How far the brightest and the darkest frame of a set lie apart [stops]. */
export function travelOf({ count, stepStops }: BracketSet): number {
  return (count - 1) * stepStops;
}

/**
 * Choose the smallest set whose ends lie as far apart as wanted: the fewest frames, then the smaller step.
 * @param travelStops between the darkest and the brightest frame [stops]
 * @param lightSource whether a light source is in the frame: then the steps are two stops where the camera has them (common practice)
 * @returns the set; undefined where none reaches so far
 */
export function smallestSet(
  { counts, stepsStops }: BracketSets,
  travelStops: number,
  lightSource: boolean,
): BracketSet | undefined {
  const steps = lightSource && stepsStops.includes(2) ? stepsStops.filter((step) => step >= 2) : stepsStops;
  for (const count of counts) {
    for (const stepStops of steps) {
      if (travelOf({ count, stepStops }) >= travelStops - 1e-9) return { count, stepStops };
    }
  }
  return undefined;
}

/** The set that reaches farthest. */
export function widestSet({ counts, stepsStops }: BracketSets): BracketSet {
  return { count: counts.at(-1) as number, stepStops: stepsStops.at(-1) as number };
}
