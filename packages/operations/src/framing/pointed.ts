import type { PointedCamera } from "@fieldstop/core/outing";
import type { CameraInput } from "./camera-input";

/** Of a camera, what the frame depends on. */
export function pointed({ sensor, focalLengthMm, azimuthDeg, pitchDeg, orientation }: CameraInput): PointedCamera {
  return { sensor, focalLengthMm, azimuthDeg, pitchDeg, orientation };
}
