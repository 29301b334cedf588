import type { PointedCamera } from "@fieldstop/core/outing";
import type { AskedCamera } from "./asked-camera";

/** Of a camera, what the frame depends on. */
export function pointed({ sensor, focalLengthMm, azimuthDeg, pitchDeg, orientation }: AskedCamera): PointedCamera {
  return { sensor, focalLengthMm, azimuthDeg, pitchDeg, orientation };
}
