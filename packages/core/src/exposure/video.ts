import { requireInRange, requirePositive } from "../domain-error";

/**
 * Compute the shutter time of a film or video camera from its frame rate and shutter angle: angle/(360·rate).
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
 * Compute the neutral density that holds the shutter of a video camera while the light is brighter than it wants.
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
