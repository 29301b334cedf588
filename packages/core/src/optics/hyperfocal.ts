import { requireInRange } from "../domain-error";
import type { ThinLens } from "./thin-lens";

/**
 * Compute the hyperfocal distance: focused there, everything from half of it to infinity is sharp enough. H = f²/(N·c) + f.
 * @param lens focal length [mm], exact aperture [1], circle of confusion [mm]
 * @returns [m]
 * @throws DomainError outside the ranges of {@link ThinLens}
 * Source: thin lens; Ray 2002, Applied Photographic Optics (from memory); Wikipedia "Hyperfocal distance", first definition. Held by the golden rows `hyper`.
 * @example hyperfocalDistanceM({ focalLengthMm: 50, aperture: 8, circleOfConfusionMm: 0.03 }) // 10.467
 */
export function hyperfocalDistanceM(lens: ThinLens): number {
  return (hyperfocalBeyondLensMm(lens) + lens.focalLengthMm) / 1000;
}

/** f²/(N·c), the hyperfocal distance less the focal length [mm]. */
export function hyperfocalBeyondLensMm({ focalLengthMm, aperture, circleOfConfusionMm }: ThinLens): number {
  const f = requireInRange("focalLengthMm", focalLengthMm, 0.5, 1e4, "mm");
  const n = requireInRange("aperture", aperture, 0.1, 1024);
  return (f * f) / (n * requireInRange("circleOfConfusionMm", circleOfConfusionMm, 1e-7, 10, "mm"));
}
