import { wrap360 } from "../angles";
import { type LatitudeInput, type SensorLatitude, sensorLatitude } from "../bracketing/latitude";
import { readAperture, readIso } from "../exposure/settings";
import type { FramingCamera } from "../framing/projection";
import type { Assumption } from "../notes";
import { readSensor } from "../optics/sensor";
import type { CameraView } from "../sky/luminance";
import { FRAMING_DEFAULTS, framingOf, type PointedCamera, viewOf } from "./framing-camera";

/** The camera that goes along; what is not said is taken by default, and the answer says so. */
export interface OutingCamera extends LatitudeInput, Omit<PointedCamera, "azimuthDeg"> {
  /** f-number as typed; default f/11. */
  readonly aperture?: number | undefined;
  /** ISO as typed; default 100. */
  readonly iso?: number | undefined;
  /** Where the camera points, degrees clockwise from true north; default toward the sun. */
  readonly azimuthDeg?: number | undefined;
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

const DEFAULTS = { aperture: 11, iso: 100 } as const;
const WHY = {
  aperture: "common practice for depth without much diffraction",
  iso: "the lowest speed of most sensors",
} as const;

/** @throws DomainError for a value out of range, named as a field of `camera` */
export function planCamera(camera: OutingCamera, assumptions: Assumption[]): PlannedCamera {
  const framing = framingOf({ ...camera, azimuthDeg: camera.azimuthDeg ?? 0 }, assumptions);
  for (const field of ["aperture", "iso"] as const) {
    if (camera[field] === undefined)
      assumptions.push({ field: `camera.${field}`, value: DEFAULTS[field], why: WHY[field] });
  }
  if (camera.azimuthDeg === undefined) {
    assumptions.push({ field: "camera.azimuthDeg", value: "toward the sun", why: "no direction was given" });
  }
  const iso = camera.iso ?? DEFAULTS.iso;
  const aperture = camera.aperture ?? DEFAULTS.aperture;
  readAperture(aperture);
  const framingToward = (azimuthDeg: number): FramingCamera => ({
    ...framing,
    azimuthDeg: wrap360(camera.azimuthDeg ?? azimuthDeg),
  });
  return {
    aperture,
    iso,
    latitude: sensorLatitude(camera, readIso(iso).exact, assumptions, "camera."),
    cropFactor: readSensor(camera.sensor ?? FRAMING_DEFAULTS.sensor, "camera.sensor").cropFactor,
    focalLengthMm: framing.focalLengthMm,
    framingToward,
    viewToward: (azimuthDeg) => viewOf(framingToward(azimuthDeg)),
  };
}
