import { atanDeg, tanDeg, wrap360 } from "../angles";
import { DomainError } from "../domain-error";
import type { HorizonProfile } from "../horizon/profile";
import { interpolateRoundCompass, lastIndexAtOrBelow } from "../interpolation";

/** One direction of the ridge behind, as its profile gives it. */
export interface RidgePoint {
  readonly azimuthDeg: number;
  /** Apparent altitude from the eye height of the profile [deg]. */
  readonly altitudeDeg: number;
  /** [m]; null where it is not known, and the ridge then stays where it is as the camera rises. */
  readonly distanceM: number | null;
}

// Steeper than this it is a wall over one's head, and its tangent runs away
const STEEPEST_RIDGE_DEG = 80;

/** The ridge in one direction. */
export function ridgeAt(profile: HorizonProfile, azimuthDeg: number): RidgePoint {
  const { azimuthsDeg, altitudesDeg } = profile;
  const azimuth = wrap360(azimuthDeg);
  const altitudeDeg = interpolateRoundCompass(azimuthsDeg, altitudesDeg, azimuth);
  if (!(Math.abs(altitudeDeg) <= STEEPEST_RIDGE_DEG)) {
    const allowed = `a skyline within ${STEEPEST_RIDGE_DEG} of the level behind what stands in front`;
    throw new DomainError({ code: "impossible", param: "horizon", given: altitudeDeg, allowed, unit: "deg" });
  }
  return { azimuthDeg: azimuth, altitudeDeg, distanceM: nearestDistanceM(profile, azimuth) };
}

/**
 * The points of the ridge across a width between which it only rises or only falls at one distance: the ends, every node of the profile in between, and
 * the middle between two nodes at either's distance. Whatever holds at all of them holds all along.
 */
export function ridgeAcross(profile: HorizonProfile, azimuthDeg: number, widthDeg: number): RidgePoint[] {
  if (widthDeg === 0) return [ridgeAt(profile, azimuthDeg)];
  const { azimuthsDeg } = profile;
  const from = wrap360(azimuthDeg - widthDeg / 2);
  const within = (azimuth: number): boolean => wrap360(azimuth - from) < widthDeg;
  const points = [from, from + widthDeg].map((azimuth) => ridgeAt(profile, azimuth));
  azimuthsDeg.forEach((node, i) => {
    const next = azimuthsDeg[i + 1 < azimuthsDeg.length ? i + 1 : 0] as number;
    const halfway = node + wrap360(next - node) / 2;
    if (within(node)) points.push(ridgeAt(profile, node));
    if (!within(halfway)) return;
    const between = ridgeAt(profile, halfway);
    for (const end of [node, next]) points.push({ ...between, distanceM: nearestDistanceM(profile, end) });
  });
  return points;
}

/**
 * Apparent altitude of a point of the ridge from a camera height [deg]. Curve and refraction are in the altitude of the profile; a camera that rises by
 * Δh sees it sink by Δh over the distance.
 */
export function ridgeAltitudeDeg({ altitudeDeg, distanceM }: RidgePoint, profileEyeHeightM: number, heightM: number) {
  if (distanceM === null) return altitudeDeg;
  return atanDeg(tanDeg(altitudeDeg) + (profileEyeHeightM - heightM) / distanceM);
}

/** Distances jump from crest to crest and are not interpolated: the nearer node's is taken. */
function nearestDistanceM({ azimuthsDeg, distancesM }: HorizonProfile, azimuthDeg: number): number | null {
  if (distancesM === undefined) return null;
  const last = azimuthsDeg.length - 1;
  const index = lastIndexAtOrBelow(azimuthsDeg, azimuthDeg);
  const left = index < 0 ? last : index;
  const right = index >= last ? 0 : index + 1;
  const pastLeft = wrap360(azimuthDeg - (azimuthsDeg[left] as number));
  const toRight = wrap360((azimuthsDeg[right] as number) - azimuthDeg);
  return distancesM[pastLeft <= toRight ? left : right] ?? null;
}
