import { cosDeg } from "../angles";
import { requireInRange, requirePositive } from "../domain-error";

// The earth turns once against the stars in 86,164.1 s (IERS Conventions 2010, table 1.1: 7.292115e-5 rad/s)
const TURN_RAD_PER_S = 7.292115e-5;

/** How far a star may move on the sensor and still look like a point [px]. Our own choice: three pixels are seen only on a close look. */
export const STAR_TRAIL_PIXELS = 3;

export interface StarTrailRequest {
  /** [mm] */
  readonly focalLengthMm: number;
  /** Distance between pixels [µm]. */
  readonly pixelPitchUm: number;
  /** Of the stars that move fastest in the frame [deg], -90 to 90. */
  readonly declinationDeg: number;
  /** [px]; default {@link STAR_TRAIL_PIXELS}. */
  readonly pixels?: number | undefined;
}

/**
 * Compute the longest time before stars draw trails: t = n·p / (f·ω·cos δ), the time in which the image of a star moves n pixels.
 * @returns [s]; infinite at the celestial pole
 * @throws DomainError out of range
 * Source: geometry of the turning sky with the earth's rate; the number of pixels is a choice. Accuracy: exact near the axis of a rectilinear lens; in the
 * corners of a wide one images move faster, up to 1/cos² of the angle from the axis.
 * @example longestBeforeTrailsSeconds({ focalLengthMm: 20, pixelPitchUm: 6, declinationDeg: 0 }) // 12.34
 */
export function longestBeforeTrailsSeconds(request: StarTrailRequest): number {
  const focalLengthMm = requirePositive("focalLengthMm", request.focalLengthMm, "mm");
  const pixelPitchUm = requirePositive("pixelPitchUm", request.pixelPitchUm, "um");
  const declinationDeg = requireInRange("declinationDeg", request.declinationDeg, -90, 90, "deg");
  const pixels = requirePositive("pixels", request.pixels ?? STAR_TRAIL_PIXELS);
  const trailMm = (pixels * pixelPitchUm) / 1000;
  const speed = focalLengthMm * TURN_RAD_PER_S * Math.abs(cosDeg(declinationDeg));
  return speed < 1e-12 ? Number.POSITIVE_INFINITY : trailMm / speed;
}
