import { sinDeg } from "../angles";
import { DomainError, requireInRange, requirePositive } from "../domain-error";

/** A thing that moves past the camera, and the lens and pixels that see it. */
export interface SubjectMotion {
  /** Speed of the thing [m/s], 0 to 100,000. */
  readonly speedMPerS: number;
  /** Distance from lens to thing [m], more than one focal length. */
  readonly distanceM: number;
  /** Focal length [mm], 1 to 10,000. */
  readonly focalLengthMm: number;
  /** Distance between the centres of neighbouring pixels [µm], 0.1 to 1000. */
  readonly pixelPitchUm: number;
  /** Angle between its path and the line of sight [deg], 0 to 180; default 90, straight across. */
  readonly pathAngleDeg?: number;
}

/**
 * Compute how fast the image of a moving thing crosses the sensor.
 * @param motion speed [m/s], distance [m], focal length [mm], pixel pitch [µm], angle of the path [deg]
 * @returns [px/s]
 * @throws DomainError outside the ranges of {@link SubjectMotion}
 * Source: thin lens, magnification f/(d − f). Accuracy: exact for a flat field, small angles off the axis; held by
 * tests/core/exposure/motion.spec.ts.
 * @example imageSpeedPxPerS({ speedMPerS: 1, distanceM: 10.05, focalLengthMm: 50, pixelPitchUm: 5 }) // 1000
 */
export function imageSpeedPxPerS(motion: SubjectMotion): number {
  const { speedMPerS, distanceM, focalLengthMm, pixelPitchUm, pathAngleDeg = 90 } = motion;
  requireInRange("speedMPerS", speedMPerS, 0, 1e5, "m/s");
  requireInRange("focalLengthMm", focalLengthMm, 1, 1e4, "mm");
  requireInRange("pixelPitchUm", pixelPitchUm, 0.1, 1000, "µm");
  requireInRange("pathAngleDeg", pathAngleDeg, 0, 180, "deg");
  requirePositive("distanceM", distanceM, "m");
  const focalLengthM = focalLengthMm / 1000;
  if (!(distanceM > focalLengthM)) {
    throw new DomainError({ param: "distanceM", given: distanceM, allowed: "more than one focal length", unit: "m" });
  }
  const magnification = focalLengthM / (distanceM - focalLengthM);
  return (speedMPerS * sinDeg(pathAngleDeg) * magnification) / (pixelPitchUm / 1e6);
}

/**
 * Compute how far the image of a moving thing is smeared while the shutter is open.
 * @param motion as {@link imageSpeedPxPerS}
 * @param seconds shutter time [s], 0 or more
 * @returns [px]
 * @throws DomainError outside those ranges
 * Source and accuracy: as {@link imageSpeedPxPerS}.
 * @example imageDisplacementPx({ speedMPerS: 1, distanceM: 10.05, focalLengthMm: 50, pixelPitchUm: 5 }, 0.01) // 10
 */
export function imageDisplacementPx(motion: SubjectMotion, seconds: number): number {
  return imageSpeedPxPerS(motion) * requireInRange("seconds", seconds, 0, Number.MAX_VALUE, "s");
}

/** The longest shutter for a blur budget: a time, or any time at all where nothing crosses the sensor. */
export type LongestShutter = { readonly kind: "limited"; readonly seconds: number } | { readonly kind: "unlimited" };

/**
 * Compute the longest shutter that keeps a moving thing within a blur budget.
 * @param motion as {@link imageSpeedPxPerS}
 * @param blurPx smear that is still good [px], greater than 0
 * @returns [s], or `unlimited` for a thing that stands still or comes straight along the line of sight
 * @throws DomainError outside those ranges
 * Source and accuracy: as {@link imageSpeedPxPerS}.
 * @example longestShutterForBlur({ speedMPerS: 1, distanceM: 10.05, focalLengthMm: 50, pixelPitchUm: 5 }, 2) // limited, 0.002 s
 */
export function longestShutterForBlur(motion: SubjectMotion, blurPx: number): LongestShutter {
  requirePositive("blurPx", blurPx, "px");
  const seconds = blurPx / imageSpeedPxPerS(motion);
  // along the line of sight the sine of 180° is not quite zero: what takes over an hour for a pixel does not move
  return seconds < 3600 * blurPx ? { kind: "limited", seconds } : { kind: "unlimited" };
}
