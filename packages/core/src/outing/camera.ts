import { asinDeg, cosDeg, sinDeg, wrap360 } from "../angles";
import { type BracketingInput, type BracketSets, readBracketing } from "../bracketing/bracket-set";
import { type LatitudeInput, type SensorLatitude, sensorLatitude } from "../bracketing/latitude";
import { readAperture, readIso } from "../exposure/settings";
import { type FramingCamera, frameProjection } from "../framing/projection";
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
  /** The bracket sets that it can take; default 3, 5, 7 or 9 frames at 1 or 2 stops. */
  readonly bracketing?: BracketingInput | undefined;
}

/** The camera as the plan reckons with it. */
export interface PlannedCamera {
  readonly aperture: number;
  readonly iso: number;
  readonly latitude: SensorLatitude;
  readonly cropFactor: number;
  readonly focalLengthMm: number;
  /** Distance between pixels [µm]. */
  readonly pixelPitchUm: number;
  readonly sets: BracketSets;
  /** The declination nearest to the celestial equator that the frame toward an azimuth shows above the horizon [deg]. */
  declinationInFrame(latitude: number, azimuthDeg: number): number;
  /** The frame toward an azimuth [deg]; the camera's own where it was given. */
  framingToward(azimuthDeg: number): FramingCamera;
  viewToward(azimuthDeg: number): CameraView;
}

// Our own choice where the pixels are not known: 24 megapixels, 6000 across
const USUAL_PIXELS_ACROSS = 6000;
const GRID_STEPS = 8;

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
  const sensor = readSensor(camera.sensor ?? FRAMING_DEFAULTS.sensor, "camera.sensor");
  return {
    aperture,
    iso,
    pixelPitchUm: sensor.pixelPitchUm ?? (1000 * Math.max(sensor.widthMm, sensor.heightMm)) / USUAL_PIXELS_ACROSS,
    sets: readBracketing(camera.bracketing),
    declinationInFrame: (latitude, azimuthDeg) => declinationInFrame(framingToward(azimuthDeg), latitude),
    latitude: sensorLatitude(camera, readIso(iso).exact, assumptions, "camera."),
    cropFactor: sensor.cropFactor,
    focalLengthMm: framing.focalLengthMm,
    framingToward,
    viewToward: (azimuthDeg) => viewOf(framingToward(azimuthDeg)),
  };
}

/** Where stars move fastest in a frame [deg]: sin δ = sin φ·sin h + cos φ·cos h·cos A over a grid of it. */
function declinationInFrame(framing: FramingCamera, latitude: number): number {
  const { toSky } = frameProjection(framing);
  let nearest = 90;
  for (let i = 0; i <= GRID_STEPS; i++) {
    for (let j = 0; j <= GRID_STEPS; j++) {
      const { azimuthDeg, altitudeDeg } = toSky(i / GRID_STEPS, j / GRID_STEPS);
      if (altitudeDeg < 0) continue;
      const sine = sinDeg(latitude) * sinDeg(altitudeDeg) + cosDeg(latitude) * cosDeg(altitudeDeg) * cosDeg(azimuthDeg);
      const declination = asinDeg(Math.max(-1, Math.min(1, sine)));
      if (Math.abs(declination) < Math.abs(nearest)) nearest = declination;
    }
  }
  return nearest;
}
