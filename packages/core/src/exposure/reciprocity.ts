import { requireInRange } from "../domain-error";

/** How a film loses speed in long exposures. */
export interface FilmReciprocity {
  /** Exponent p of the power law, 1 (none) to 3. Makers print 1.2 to 1.4 for most films. */
  readonly exponent: number;
  /** Time up to which the film needs no correction [s], 0.001 to 1000; default 1. */
  readonly thresholdSeconds?: number;
}

/**
 * Compute how long to expose film when the meter asks for a time: θ·(t/θ)^p above the threshold θ, and the time itself below it.
 * With the usual threshold of 1 s it is t^p.
 * @param meteredSeconds [s], 0 or more
 * @param film exponent 1 to 3, threshold 0.001 to 1000 [s]
 * @returns [s]
 * @throws DomainError outside those ranges
 * Source: Schwarzschild 1900 (Astrophysical Journal 11:89), in the form that film makers print, t^p. Accuracy: that of the user's exponent.
 * Held by tests/core/exposure/reciprocity.spec.ts.
 * @example filmSeconds(10, { exponent: 1.3 }) // 19.95
 */
export function filmSeconds(meteredSeconds: number, film: FilmReciprocity): number {
  const { exponent, threshold } = requireFilm(film);
  requireInRange("meteredSeconds", meteredSeconds, 0, 1e9, "s");
  return meteredSeconds <= threshold ? meteredSeconds : threshold * (meteredSeconds / threshold) ** exponent;
}

/**
 * Compute the metered time that a time on film stands for; the inverse of {@link filmSeconds}.
 * @param exposedSeconds [s], 0 or more
 * @param film exponent 1 to 3, threshold 0.001 to 1000 [s]
 * @returns [s]
 * @throws DomainError outside those ranges
 * @example filmEquivalentSeconds(19.95, { exponent: 1.3 }) // 10
 */
export function filmEquivalentSeconds(exposedSeconds: number, film: FilmReciprocity): number {
  const { exponent, threshold } = requireFilm(film);
  requireInRange("exposedSeconds", exposedSeconds, 0, Number.MAX_VALUE, "s");
  return exposedSeconds <= threshold ? exposedSeconds : threshold * (exposedSeconds / threshold) ** (1 / exponent);
}

function requireFilm({ exponent, thresholdSeconds = 1 }: FilmReciprocity): { exponent: number; threshold: number } {
  return {
    exponent: requireInRange("reciprocity.exponent", exponent, 1, 3),
    threshold: requireInRange("reciprocity.thresholdSeconds", thresholdSeconds, 0.001, 1000, "s"),
  };
}
