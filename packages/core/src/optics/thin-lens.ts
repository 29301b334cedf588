import { DomainError, requireInRange } from "../domain-error";
import { hyperfocalBeyondLensMm } from "./hyperfocal";

/** How far away: metres, or past anything that matters. */
export type Distance = number | "infinity";

/** A limit that may lie at infinity; then its distance is null. */
export type FarLimit =
  | { readonly kind: "distance"; readonly distanceM: number }
  | { readonly kind: "infinity"; readonly distanceM: null };

/** A lens at an aperture, and what still counts as a point. */
export interface ThinLens {
  /** [mm], 0.5 to 10,000 */
  readonly focalLengthMm: number;
  /** Exact f-number [1], 0.1 to 1024 */
  readonly aperture: number;
  /** [mm], 0.0000001 to 10 */
  readonly circleOfConfusionMm: number;
}

/** What is sharp enough around a focus distance. */
export interface SharpLimits {
  readonly nearM: number;
  readonly far: FarLimit;
}

// Anything past it is better called infinity
const FARTHEST_M = 1e9;

/** Farthest distance that is asked for in metres: for any lens what lies beyond is infinity. */
export const FARTHEST_SUBJECT_M = 1e6;

const INFINITE: FarLimit = { kind: "infinity", distanceM: null };

/**
 * Compute what is sharp enough when the lens is focused at a distance: near = s(H−f)/(H+s−2f), far = s(H−f)/(H−s), and infinity from H on.
 * @param lens focal length [mm], exact aperture [1], circle of confusion [mm]
 * @param focusDistanceM from the lens [m], more than the focal length, or `infinity`
 * @param param name to report the distance under
 * @returns near limit [m] and far limit [m] or infinity
 * @throws DomainError outside those ranges
 * Source: thin lens; Ray 2002, Applied Photographic Optics (from memory). Accuracy: that of the machine for a thin lens; real lenses differ by
 * the distance between their principal planes. Held by the golden rows `dof`.
 * @example sharpLimits({ focalLengthMm: 24, aperture: 8, circleOfConfusionMm: 0.03 }, 3) // near 1.339, far infinity
 */
export function sharpLimits(lens: ThinLens, focusDistanceM: Distance, param = "focusDistanceM"): SharpLimits {
  const reach = hyperfocalBeyondLensMm(lens);
  if (focusDistanceM === "infinity") return { nearM: reach / 1000, far: INFINITE };
  const f = lens.focalLengthMm;
  const s = requireDistance(param, focusDistanceM, f) * 1000;
  const nearM = (s * reach) / (reach + (s - f)) / 1000;
  // a hair short of the hyperfocal distance is rounding, not a limit light-years away
  const short = reach - (s - f);
  const farM = (s * reach) / short / 1000;
  if (short <= reach * 1e-12 || farM > FARTHEST_M) return { nearM, far: INFINITE };
  return { nearM, far: { kind: "distance", distanceM: farM } };
}

/**
 * Compute where to focus so that two distances are equally sharp: their harmonic mean, twice the nearer one where the farther is infinity.
 * @param nearM [m], greater than 0
 * @param farM [m], no nearer, or `infinity`
 * @returns [m]
 * @throws DomainError otherwise
 * Source: thin lens, exact: 2/s = 1/near + 1/far. Held by the golden row `dof.navy.focusFor`.
 * @example focusBetweenM(2, 6) // 3
 */
export function focusBetweenM(nearM: number, farM: Distance): number {
  requireInRange("nearM", nearM, Number.MIN_VALUE, FARTHEST_M, "m");
  if (farM === "infinity") return 2 * nearM;
  requireInRange("farM", farM, nearM, FARTHEST_M, "m");
  return 2 / (1 / nearM + 1 / farM);
}

/**
 * Compute the aperture that just holds two distances sharp when focused between them: N = f²/(c·(H−f)), with H−f = 2(s−f)/(s·(1/near − 1/far)).
 * @param lens focal length [mm] and circle of confusion [mm]
 * @param nearM [m], more than the focal length
 * @param farM [m], no nearer, or `infinity`
 * @returns exact f-number [1]; 0 where both distances are the same
 * @throws DomainError otherwise
 * Source: the limits of {@link sharpLimits} solved for N. Held by round trips in tests/core/optics/thin-lens.spec.ts.
 * @example apertureForLimits({ focalLengthMm: 24, circleOfConfusionMm: 0.03 }, 1.2, "infinity") // 8.08
 */
export function apertureForLimits(lens: Omit<ThinLens, "aperture">, nearM: number, farM: Distance): number {
  const f = requireInRange("focalLengthMm", lens.focalLengthMm, 0.5, 1e4, "mm");
  const c = requireInRange("circleOfConfusionMm", lens.circleOfConfusionMm, 1e-7, 10, "mm");
  const s = focusBetweenM(requireDistance("nearM", nearM, f), farM) * 1000;
  const spread = (1 / nearM - (farM === "infinity" ? 0 : 1 / farM)) / 1000;
  return (f * f * s * spread) / (2 * c * (s - f));
}

/**
 * Compute how large a point at a distance becomes on the sensor when the lens is focused elsewhere.
 * @param lens focal length [mm] and exact aperture [1]
 * @param focusDistanceM [m], more than the focal length
 * @param distanceM of the point [m], more than the focal length, or `infinity`
 * @returns diameter of the blur [mm]
 * @throws DomainError otherwise
 * Source: thin lens, f²/(N·(s−f))·|d−s|/d. Held by tests/core/optics/thin-lens.spec.ts: at the limits it is the circle of confusion.
 * @example blurDiameterMm({ focalLengthMm: 50, aperture: 8 }, 10.467, "infinity") // 0.03
 */
export function blurDiameterMm(
  lens: Pick<ThinLens, "focalLengthMm" | "aperture">,
  focusDistanceM: number,
  distanceM: Distance,
): number {
  const f = requireInRange("focalLengthMm", lens.focalLengthMm, 0.5, 1e4, "mm");
  const n = requireInRange("aperture", lens.aperture, 0.1, 1024);
  const s = requireDistance("focusDistanceM", focusDistanceM, f) * 1000;
  const atInfinity = (f * f) / (n * (s - f));
  if (distanceM === "infinity") return atInfinity;
  const d = requireDistance("distanceM", distanceM, f) * 1000;
  return (atInfinity * Math.abs(d - s)) / d;
}

/** Returns a distance [m] that is farther than the focal length [mm] and no farther than `mostM`; otherwise throws a DomainError that names it. */
export function requireDistance(param: string, distanceM: number, focalLengthMm: number, mostM = FARTHEST_M): number {
  if (!(distanceM * 1000 > focalLengthMm && distanceM <= mostM)) {
    const allowed = `more than the focal length of ${focalLengthMm / 1000}, up to ${mostM}`;
    throw new DomainError({ param, given: distanceM, allowed, unit: "m" });
  }
  return distanceM;
}
