import { atanDeg, wrap360 } from "../angles";
import { type LatitudeInput, type SensorLatitude, sensorLatitude } from "../bracketing/latitude";
import { requirePositive } from "../domain-error";
import { readAperture, readIso } from "../exposure/settings";
import type { FramingCamera } from "../framing/projection";
import type { Assumption } from "../notes";
import { asHeld, type FrameOrientation, readSensor, type Sensor } from "../optics/sensor";
import type { CameraView } from "../sky/luminance";

/** The camera that goes along; what is not said is taken by default, and the answer says so. */
export interface OutingCamera extends LatitudeInput {
  /** Default full frame. */
  readonly sensor?: Sensor | undefined;
  /** [mm]; default 24. */
  readonly focalLengthMm?: number | undefined;
  /** f-number as typed; default f/11. */
  readonly aperture?: number | undefined;
  /** ISO as typed; default 100. */
  readonly iso?: number | undefined;
  /** Where the camera points, degrees clockwise from true north; default toward the sun. */
  readonly azimuthDeg?: number | undefined;
  /** Up positive [deg]; default 0. */
  readonly pitchDeg?: number | undefined;
  readonly orientation?: FrameOrientation | undefined;
}

/** The camera as the plan reckons with it. */
export interface PlannedCamera {
  readonly aperture: number;
  readonly iso: number;
  readonly latitude: SensorLatitude;
  readonly cropFactor: number;
  readonly focalLengthMm: number;
  /** The frame toward an azimuth [deg]; the camera's own where it was given. */
  framingToward(azimuthDeg: number): FramingCamera;
  viewToward(azimuthDeg: number): CameraView;
}

const DEFAULTS = { sensor: "full-frame", focalLengthMm: 24, aperture: 11, iso: 100, pitchDeg: 0 } as const;
const WHY = {
  sensor: "no sensor was given",
  focalLengthMm: "a usual wide angle",
  aperture: "common practice for depth without much diffraction",
  iso: "the lowest speed of most sensors",
  pitchDeg: "a level camera",
} as const;

/** @throws DomainError for a value out of range, named as a field of `camera` */
export function planCamera(camera: OutingCamera, assumptions: Assumption[]): PlannedCamera {
  for (const field of ["sensor", "focalLengthMm", "aperture", "iso", "pitchDeg"] as const) {
    if (camera[field] === undefined)
      assumptions.push({ field: `camera.${field}`, value: DEFAULTS[field], why: WHY[field] });
  }
  if (camera.azimuthDeg === undefined) {
    assumptions.push({ field: "camera.azimuthDeg", value: "toward the sun", why: "no direction was given" });
  }
  const sensor = readSensor(camera.sensor ?? DEFAULTS.sensor, "camera.sensor");
  const { widthMm, heightMm } = asHeld(sensor, camera.orientation ?? "landscape");
  const focalLengthMm = requirePositive("camera.focalLengthMm", camera.focalLengthMm ?? DEFAULTS.focalLengthMm, "mm");
  const pitchDeg = camera.pitchDeg ?? DEFAULTS.pitchDeg;
  const iso = camera.iso ?? DEFAULTS.iso;
  const aperture = camera.aperture ?? DEFAULTS.aperture;
  readAperture(aperture);
  const azimuthToward = (azimuthDeg: number): number => wrap360(camera.azimuthDeg ?? azimuthDeg);
  return {
    aperture,
    iso,
    latitude: sensorLatitude(camera, readIso(iso).exact, assumptions, "camera."),
    cropFactor: sensor.cropFactor,
    focalLengthMm,
    framingToward: (azimuthDeg) => ({
      azimuthDeg: azimuthToward(azimuthDeg),
      pitchDeg,
      focalLengthMm,
      widthMm,
      heightMm,
    }),
    viewToward: (azimuthDeg) => ({
      azimuthDeg: azimuthToward(azimuthDeg),
      pitchDeg,
      horizontalAngleDeg: 2 * atanDeg(widthMm / 2 / focalLengthMm),
      verticalAngleDeg: 2 * atanDeg(heightMm / 2 / focalLengthMm),
    }),
  };
}
