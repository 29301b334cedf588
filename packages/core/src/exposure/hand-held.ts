import { requireInRange } from "../domain-error";

export interface HandHeld {
  /** Focal length [mm], 1 to 10,000. */
  readonly focalLengthMm: number;
  /** Diagonal of full frame over that of the sensor [1], 0.1 to 20; default 1. */
  readonly cropFactor?: number;
  /** What stabilisation is worth [stops], 0 to 10; default 0. */
  readonly stabilisationStops?: number;
}

/**
 * Compute the longest shutter that most people hold by hand: one over the full-frame focal length, times two for each stop of stabilisation.
 * @param handHeld focal length [mm], crop factor [1], stabilisation [stops]
 * @returns [s]
 * @throws DomainError outside the ranges of {@link HandHeld}
 * Source: common practice, the reciprocal rule. Accuracy: a rule of thumb, within a stop or so from person to person.
 * Held by tests/core/exposure/motion.spec.ts.
 * @example handHeldLimitSeconds({ focalLengthMm: 50, cropFactor: 1.5, stabilisationStops: 3 }) // 0.107
 */
export function handHeldLimitSeconds({ focalLengthMm, cropFactor = 1, stabilisationStops = 0 }: HandHeld): number {
  requireInRange("focalLengthMm", focalLengthMm, 1, 1e4, "mm");
  requireInRange("cropFactor", cropFactor, 0.1, 20);
  requireInRange("stabilisationStops", stabilisationStops, 0, 10, "stops");
  return 2 ** stabilisationStops / (focalLengthMm * cropFactor);
}
