import { requireInRange } from "../domain-error";
import { type Curve, findRoot } from "../roots";
import { HORIZON_REFRACTION_DEG } from "../sky/refraction";
import { SUN_SEMIDIAMETER_DEG } from "../sky/sun";
import type { SkyTrack } from "../sky/track";
import { altitudeExtremes } from "./culminations";
import { dipDeg } from "./dip";

export interface AltitudeCrossing {
  readonly instantMs: number;
  readonly direction: "rising" | "falling";
}

/** Whether and when a body passes an altitude: that it does not is an answer too. */
export type AltitudeCrossings =
  | { readonly kind: "crosses"; readonly crossings: readonly AltitudeCrossing[] }
  | { readonly kind: "always-above" }
  | { readonly kind: "always-below" };

/** How near the instant of a crossing is found [ms]. */
export const CROSSING_TOLERANCE_MS = 20;

/**
 * Compute the airless altitude of the sun's centre when its upper limb stands on the sea horizon.
 * @param heightAboveSeaM of the eye [m], -500 to 10,000
 * @returns [deg]
 * @throws DomainError outside that range
 * Source: Nautical Almanac Office, "Rise, Set, and Twilight Definitions": refraction 34′, semidiameter 16′; dip as {@link dipDeg}.
 * @example sunriseAltitudeDeg(0) // -0.8333
 */
export function sunriseAltitudeDeg(heightAboveSeaM: number): number {
  return -(HORIZON_REFRACTION_DEG + SUN_SEMIDIAMETER_DEG) - dipDeg(heightAboveSeaM);
}

/**
 * Find when a body crosses a true altitude in a span. The span is cut at the body's highest and lowest points, so that each piece holds at
 * most one crossing, and a day on which the sun only grazes the altitude has both or none.
 * @param track where the body stands
 * @param startMs first instant [Unix ms]
 * @param endMs end of the span [Unix ms], not itself in it
 * @param altitudeDeg true altitude of the centre [deg], -90 to 90, or a function of the instant where it changes, as with the moon's disc
 * @returns the crossings in order, or on which side the body stays
 * @throws DomainError for an altitude out of range
 * Accuracy: 0.02 s on the track; see the table that `npm run accuracy` prints for the whole.
 */
export function findAltitudeCrossings(
  track: SkyTrack,
  startMs: number,
  endMs: number,
  altitudeDeg: number | Curve,
): AltitudeCrossings {
  if (typeof altitudeDeg === "number") requireInRange("altitudeDeg", altitudeDeg, -90, 90, "deg");
  const wanted = typeof altitudeDeg === "number" ? () => altitudeDeg : altitudeDeg;
  const extremes = altitudeExtremes(track, startMs, endMs).map(({ instantMs }) => instantMs);
  return crossingsBetween((ms) => track(ms).trueAltitudeDeg - wanted(ms), [startMs, ...extremes, endMs]);
}

/** Crossings of zero by a curve that only rises or only falls between neighbouring `cuts`. */
export function crossingsBetween(curve: Curve, cuts: readonly number[]): AltitudeCrossings {
  const crossings: AltitudeCrossing[] = [];
  let before = curve(cuts[0] as number);
  const first = before;
  for (let i = 1; i < cuts.length; i++) {
    const after = curve(cuts[i] as number);
    if (before > 0 !== after > 0) {
      const instantMs = findRoot(curve, cuts[i - 1] as number, cuts[i] as number, CROSSING_TOLERANCE_MS, before, after);
      crossings.push({ instantMs, direction: after > 0 ? "rising" : "falling" });
    }
    before = after;
  }
  if (crossings.length > 0) return { kind: "crosses", crossings };
  return { kind: first > 0 ? "always-above" : "always-below" };
}
