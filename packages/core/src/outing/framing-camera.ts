import { atanDeg, wrap360 } from "../angles";
import { DomainError, requirePositive } from "../domain-error";
import type { FramingCamera } from "../framing/projection";
import type { Assumption } from "../notes";
import { asHeld, type FrameOrientation, readSensor, type Sensor } from "../optics/sensor";
import type { CameraView } from "../sky/luminance";

/** A camera that is pointed somewhere: what the frame takes in. */
export interface PointedCamera {
  /** Default full frame. */
  readonly sensor?: Sensor | undefined;
  /** [mm]; default 24. */
  readonly focalLengthMm?: number | undefined;
  /** Degrees clockwise from true north. */
  readonly azimuthDeg?: number | undefined;
  /** Up positive [deg]; default 0. */
  readonly pitchDeg?: number | undefined;
  readonly orientation?: FrameOrientation | undefined;
}

export const FRAMING_DEFAULTS = { sensor: "full-frame", focalLengthMm: 24, pitchDeg: 0 } as const;
const WHY = { sensor: "no sensor was given", focalLengthMm: "a usual wide angle", pitchDeg: "a level camera" } as const;

/** @throws DomainError for a value out of range, or no azimuth, named as a field of `camera` */
export function framingOf(camera: PointedCamera, assumptions: Assumption[]): FramingCamera {
  const { azimuthDeg, orientation = "landscape" } = camera;
  if (azimuthDeg === undefined) {
    const allowed = "the way the camera points, 0 to 360";
    throw new DomainError({ param: "camera.azimuthDeg", given: azimuthDeg, allowed, unit: "deg" });
  }
  for (const field of ["sensor", "focalLengthMm", "pitchDeg"] as const) {
    if (camera[field] !== undefined) continue;
    assumptions.push({ field: `camera.${field}`, value: FRAMING_DEFAULTS[field], why: WHY[field] });
  }
  const sensor = readSensor(camera.sensor ?? FRAMING_DEFAULTS.sensor, "camera.sensor");
  const { widthMm, heightMm } = asHeld(sensor, orientation);
  const focalLengthMm = requirePositive(
    "camera.focalLengthMm",
    camera.focalLengthMm ?? FRAMING_DEFAULTS.focalLengthMm,
    "mm",
  );
  return {
    azimuthDeg: wrap360(azimuthDeg),
    pitchDeg: camera.pitchDeg ?? FRAMING_DEFAULTS.pitchDeg,
    focalLengthMm,
    widthMm,
    heightMm,
  };
}

/** The same frame as brightness reckons with it. */
export function viewOf({ azimuthDeg, pitchDeg, focalLengthMm, widthMm, heightMm }: FramingCamera): CameraView {
  return {
    azimuthDeg,
    pitchDeg,
    horizontalAngleDeg: 2 * atanDeg(widthMm / 2 / focalLengthMm),
    verticalAngleDeg: 2 * atanDeg(heightMm / 2 / focalLengthMm),
  };
}
