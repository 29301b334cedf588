import { within } from "../domain-error";
import { type TidePrediction, tideHeightAt, tideTrend } from "../water/tide";
import type { MomentName } from "./moments";

/** Where the tide of an outing is taken from. */
export interface OutingTideStation {
  readonly id: string;
  readonly name: string;
  readonly latitude: number;
  readonly longitude: number;
  /** From the place of the outing [km]. */
  readonly distanceKm: number;
}

/** The tide round an outing, as it is looked up beforehand. */
export interface OutingTide extends TidePrediction {
  readonly station: OutingTideStation;
  /** What heights are counted from. */
  readonly datum: string;
  /** To be shown with the tide. */
  readonly attribution: string;
}

/** The tide over an outing, and at each of its moments. */
export interface OutingTideReport {
  readonly station: OutingTideStation;
  readonly datum: string;
  /** High and low waters from six hours before the arrival to six hours after the end. */
  readonly extremes: readonly { readonly kind: "high" | "low"; readonly instant: string; readonly heightM: number }[];
  readonly moments: readonly {
    readonly name: MomentName;
    readonly instant: string;
    readonly heightM: number;
    readonly trend: "rising" | "falling";
  }[];
  readonly attribution: string;
}

const AROUND_MS = 6 * 3_600_000;

/**
 * What the water does over a session: a shore that is bare on the way out may be cut off on the way back.
 * @param tide prediction that covers all moments
 * @param moments of the outing [Unix ms]
 * @param arriveMs from [Unix ms]
 * @param stayMs to [Unix ms]
 * @throws DomainError for a moment that the prediction does not cover, at `tide`
 */
export function outingTide(
  tide: OutingTide,
  moments: readonly { readonly name: MomentName; readonly instantMs: number }[],
  arriveMs: number,
  stayMs: number,
  toSecond: (ms: number) => string,
): OutingTideReport {
  const { station, datum, curve, extremes, attribution } = tide;
  return {
    station,
    datum,
    extremes: extremes
      .filter(({ instantMs }) => instantMs >= arriveMs - AROUND_MS && instantMs <= stayMs + AROUND_MS)
      .map(({ kind, instantMs, heightM }) => ({ kind, instant: toSecond(instantMs), heightM })),
    moments: within("tide", () =>
      moments.map(({ name, instantMs }) => ({
        name,
        instant: toSecond(instantMs),
        heightM: tideHeightAt(curve, instantMs),
        trend: tideTrend(curve, instantMs),
      })),
    ),
    attribution,
  };
}
