import { DomainError, requireInRange } from "../domain-error";

/** A high or low water. */
export interface TideExtreme {
  readonly kind: "high" | "low";
  /** [Unix ms] */
  readonly instantMs: number;
  /** Above the datum of the prediction [m]. */
  readonly heightM: number;
}

/** Heights of the water over a span, evenly spaced, as a harmonic prediction gives them. */
export interface TideCurve {
  /** Of the first height [Unix ms]. */
  readonly startMs: number;
  /** From one height to the next [ms]. */
  readonly stepMs: number;
  /** Above the datum of the prediction [m], at least four. */
  readonly heightsM: readonly number[];
}

export interface TidePrediction {
  readonly curve: TideCurve;
  /** In order of time. */
  readonly extremes: readonly TideExtreme[];
}

/**
 * Compute how high the water stands at an instant, between the heights of a prediction.
 * @param curve heights each few minutes; with steps of 10 min the cubic between them adds less than 0.1 mm to a tide of 10 m
 * @param instantMs [Unix ms], within the curve
 * @returns height above the prediction's datum [m]
 * @throws DomainError for an instant before the first height or after the last, or fewer than four heights
 * Source: the cubic through the four nearest heights (Lagrange). Accuracy: as said; held in tests/core/water/tide.spec.ts.
 * @example tideHeightAt({ startMs: 0, stepMs: 600_000, heightsM: [1, 1.1, 1.2, 1.3] }, 900_000) // 1.15
 */
export function tideHeightAt(curve: TideCurve, instantMs: number): number {
  const { startMs, stepMs, heightsM } = curve;
  const count = heightsM.length;
  if (!(count >= 4)) throw new DomainError({ param: "heightsM", given: count, allowed: "at least four heights" });
  requireInRange("instantMs", instantMs, startMs, startMs + (count - 1) * stepMs, "ms");
  const x = (instantMs - startMs) / stepMs;
  const first = Math.max(0, Math.min(count - 4, Math.floor(x) - 1));
  const u = x - first;
  const y = (i: number): number => heightsM[first + i] as number;
  return (
    (-y(0) * (u - 1) * (u - 2) * (u - 3)) / 6 +
    (y(1) * u * (u - 2) * (u - 3)) / 2 -
    (y(2) * u * (u - 1) * (u - 3)) / 2 +
    (y(3) * u * (u - 1) * (u - 2)) / 6
  );
}

/** Tell whether the water rises or falls at an instant, by its height in the minute around it. */
export function tideTrend(curve: TideCurve, instantMs: number): "rising" | "falling" {
  const lastMs = curve.startMs + (curve.heightsM.length - 1) * curve.stepMs;
  const before = tideHeightAt(curve, Math.max(curve.startMs, instantMs - 30_000));
  return tideHeightAt(curve, Math.min(lastMs, instantMs + 30_000)) >= before ? "rising" : "falling";
}
