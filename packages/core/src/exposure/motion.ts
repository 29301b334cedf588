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
 * How fast the image of a moving thing crosses the sensor.
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
 * How far the image of a moving thing is smeared while the shutter is open.
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
 * The longest shutter that keeps a moving thing within a blur budget.
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

/**
 * How far the image of a moving thing shifts from one frame of a bracket to the next: from the middle of one exposure to the middle of the other.
 * @param pxPerSecond speed of the image [px/s], 0 or more
 * @param shutterSeconds shutter times in the order taken [s], each greater than 0
 * @param frameGapSeconds time between the end of one frame and the start of the next [s], 0 or more
 * @returns one shift for each neighbouring pair [px]
 * @throws DomainError outside those ranges
 * Source: uniform motion. Held by tests/core/exposure/motion.spec.ts.
 * @example frameToFrameDisplacementPx(10, [0.1, 0.3], 0.3) // [5]
 */
export function frameToFrameDisplacementPx(
  pxPerSecond: number,
  shutterSeconds: readonly number[],
  frameGapSeconds: number,
): number[] {
  requireInRange("pxPerSecond", pxPerSecond, 0, Number.MAX_VALUE, "px/s");
  requireInRange("frameGapSeconds", frameGapSeconds, 0, Number.MAX_VALUE, "s");
  const shifts: number[] = [];
  for (let i = 0; i < shutterSeconds.length; i++) {
    const here = requirePositive(`shutterSeconds.${i}`, shutterSeconds[i] as number, "s");
    if (i > 0) shifts.push(pxPerSecond * (frameGapSeconds + ((shutterSeconds[i - 1] as number) + here) / 2));
  }
  return shifts;
}

export interface HandHeld {
  /** Focal length [mm], 1 to 10,000. */
  readonly focalLengthMm: number;
  /** Diagonal of full frame over that of the sensor [1], 0.1 to 20; default 1. */
  readonly cropFactor?: number;
  /** What stabilisation is worth [stops], 0 to 10; default 0. */
  readonly stabilisationStops?: number;
}

/**
 * The longest shutter that most people hold by hand: one over the full-frame focal length, times two for each stop of stabilisation.
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

/**
 * The shutter time of a film or video camera from its frame rate and shutter angle: angle/(360·rate).
 * @param frameRate frames each second [1/s], 0.01 to 10,000
 * @param shutterAngleDeg part of the turn that the shutter is open [deg], more than 0, up to 360; default 180
 * @returns [s]
 * @throws DomainError outside those ranges
 * Source: definition of the shutter angle. Held by tests/core/exposure/motion.spec.ts.
 * @example videoShutterSeconds(24) // 1/48
 */
export function videoShutterSeconds(frameRate: number, shutterAngleDeg = 180): number {
  requireInRange("frameRate", frameRate, 0.01, 1e4, "frames per second");
  requireInRange("shutterAngleDeg", requirePositive("shutterAngleDeg", shutterAngleDeg, "deg"), 0, 360, "deg");
  return shutterAngleDeg / (360 * frameRate);
}

/** What holds a video shutter in a given light. */
export interface VideoAttenuation {
  readonly shutterSeconds: number;
  /** Filters to put on [stops]; 0 where the light is too weak already. */
  readonly attenuationStops: number;
  /** Light that is missing at this aperture and ISO [stops]; 0 where there is enough. */
  readonly shortfallStops: number;
}

/**
 * The neutral density that holds the shutter of a video camera while the light is brighter than it wants.
 * @param frameRate [1/s] and @param shutterAngleDeg [deg] as {@link videoShutterSeconds}
 * @param correctShutterSeconds the time that the light asks for without a filter at the wanted aperture and ISO [s], greater than 0
 * @returns shutter [s], filters [stops] and what is missing [stops]
 * @throws DomainError outside those ranges
 * Source: definition of a stop. Held by tests/core/exposure/motion.spec.ts.
 * @example videoAttenuation(24, 180, 1 / 768).attenuationStops // 4
 */
export function videoAttenuation(
  frameRate: number,
  shutterAngleDeg: number,
  correctShutterSeconds: number,
): VideoAttenuation {
  const shutterSeconds = videoShutterSeconds(frameRate, shutterAngleDeg);
  const stops = Math.log2(shutterSeconds / requirePositive("correctShutterSeconds", correctShutterSeconds, "s"));
  return { shutterSeconds, attenuationStops: Math.max(0, stops), shortfallStops: Math.max(0, -stops) };
}
