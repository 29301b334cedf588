import type { LatitudeInput } from "@fieldstop/core/bracketing";
import type { FrameOrientation, Sensor } from "@fieldstop/core/optics";

/** What operations know of a camera; each uses what it needs, and says what it assumed. */
export interface CameraInput extends LatitudeInput {
  readonly sensor?: Sensor | undefined;
  readonly focalLengthMm?: number | undefined;
  readonly aperture?: number | undefined;
  readonly iso?: number | undefined;
  /** Degrees clockwise from true north. */
  readonly azimuthDeg?: number | undefined;
  /** Up positive [deg]. */
  readonly pitchDeg?: number | undefined;
  readonly orientation?: FrameOrientation | undefined;
}
