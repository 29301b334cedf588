import type { LatitudeInput } from "@fieldstop/core/bracketing";
import type { Assumption } from "@fieldstop/core/notes";
import { asHeld, type FrameOrientation, readSensor, type Sensor } from "@fieldstop/core/optics";
import type { PointedCamera } from "@fieldstop/core/outing";

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

type HeldCameraInput = Pick<CameraInput, "sensor" | "focalLengthMm" | "orientation">;

/** A camera as it is held: the image on its sensor, and its lens. */
export interface HeldCamera {
  readonly focalLengthMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
  /** Present where the pixels are known. */
  readonly heightPx?: number | undefined;
  readonly assumptions: readonly Assumption[];
}

const DEFAULTS = { sensor: "full-frame", focalLengthMm: 24 } as const;
const WHY = { sensor: "no sensor was given", focalLengthMm: "a usual wide angle" } as const;

/** The camera of a request, with what it leaves out taken as for an outing, which the answer then says. */
export function heldCamera(camera: HeldCameraInput = {}): HeldCamera {
  const assumptions = (["sensor", "focalLengthMm"] as const)
    .filter((field) => camera[field] === undefined)
    .map((field) => ({ field: `camera.${field}`, value: DEFAULTS[field], why: WHY[field] }));
  const sensor = readSensor(camera.sensor ?? DEFAULTS.sensor, "camera.sensor");
  const { widthMm, heightMm, heightPx } = asHeld(sensor, camera.orientation ?? "landscape", "camera.orientation");
  return { focalLengthMm: camera.focalLengthMm ?? DEFAULTS.focalLengthMm, widthMm, heightMm, heightPx, assumptions };
}

/** Of a camera, what the frame depends on. */
export function pointed({ sensor, focalLengthMm, azimuthDeg, pitchDeg, orientation }: CameraInput): PointedCamera {
  return { sensor, focalLengthMm, azimuthDeg, pitchDeg, orientation };
}
