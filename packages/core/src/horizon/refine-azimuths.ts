import { wrap360 } from "../angles";
import { requireInRange } from "../domain-error";
import { MAX_HORIZON_POINTS } from "./profile-from-points";

/** How closely straight lines between the azimuths of a profile are to follow the skyline. */
export interface Refinement {
  /** How far a straight line may miss [deg], 0.001 to 1; default 0.01. Azimuths are put between where the middle misses by half of it. */
  readonly toleranceDeg?: number | undefined;
  /** Azimuths are never put closer than this [deg], 0.001 to 1; default 0.0078125, a 32nd of 0.25. */
  readonly minStepDeg?: number | undefined;
  /** Azimuths in the profile at the most, 2 to 7200; default 7200. */
  readonly maxAzimuths?: number | undefined;
}

/** What was read in one direction after another, a column for each quantity. */
interface Readings {
  readonly azimuthsDeg: readonly number[];
  readonly altitudesDeg: readonly number[];
  readonly distancesM: readonly number[];
  /** Reads another [deg]; returns its place in the columns. */
  look(azimuthDeg: number): number;
}

/** From the place of one reading to that of the next. */
interface Span {
  readonly left: number;
  readonly right: number;
}

// common practice in drawing curves: halve while the middle is off the straight line
const DEFAULT_TOLERANCE_DEG = 0.01;
const DEFAULT_MIN_STEP_DEG = 0.25 / 32;
/** Where the skyline leaps from one ridge to another the middle can lie on the line by chance: distances that differ by more than this share. */
const LEAP = 1.25;

/**
 * Readings between others, wherever a straight line from one to the next would miss the skyline by more than a tolerance: each span is
 * looked at in its middle, and halved while the middle is off the line or the distance leaps, widest spans first and, where they are more
 * than there is room for, the worst first.
 *
 * @param readings round the compass, ascending; what is read between is added to them
 * @returns the places of those that count, in the order of their azimuths
 */
export function refinedOrder(readings: Readings, refinement: Refinement): number[] {
  const tolerance = given("toleranceDeg", refinement.toleranceDeg ?? DEFAULT_TOLERANCE_DEG, 0.001, 1, "deg");
  const least = given("minStepDeg", refinement.minStepDeg ?? DEFAULT_MIN_STEP_DEG, 0.001, 1, "deg");
  const most = given("maxAzimuths", refinement.maxAzimuths ?? MAX_HORIZON_POINTS, 2, MAX_HORIZON_POINTS);
  const azimuthAt = (place: number): number => readings.azimuthsDeg[place] as number;
  const altitudeAt = (place: number): number => readings.altitudesDeg[place] as number;
  const distanceAt = (place: number): number => readings.distancesM[place] as number;
  const all = readings.azimuthsDeg.map((_, place) => place);
  let spans: Span[] = all.map((left) => ({ left, right: (left + 1) % all.length }));
  while (spans.length > 0 && all.length < most) {
    const missed: { span: Span; middle: number; missDeg: number }[] = [];
    for (const span of spans) {
      const { left, right } = span;
      const width = wrap360(azimuthAt(right) - azimuthAt(left)) || 360;
      if (width / 2 < least) continue;
      const middle = readings.look(wrap360(azimuthAt(left) + width / 2));
      const missDeg = Math.abs(altitudeAt(middle) - (altitudeAt(left) + altitudeAt(right)) / 2);
      if (missDeg > tolerance / 2 || leaps(distanceAt(left), distanceAt(middle), distanceAt(right))) {
        missed.push({ span, middle, missDeg });
      }
    }
    missed.sort((a, b) => b.missDeg - a.missDeg);
    missed.length = Math.min(missed.length, most - all.length);
    spans = missed.flatMap(({ span, middle }) => [
      { left: span.left, right: middle },
      { left: middle, right: span.right },
    ]);
    for (const { middle } of missed) all.push(middle);
  }
  return all.sort((a, b) => azimuthAt(a) - azimuthAt(b));
}

const leaps = (...distancesM: readonly number[]): boolean => Math.max(...distancesM) > LEAP * Math.min(...distancesM);

const given = (field: keyof Refinement, value: number, min: number, max: number, unit?: string): number =>
  requireInRange(`refine.${field}`, value, min, max, unit);
