import { SENSOR_FORMAT_NAMES, type SensorFormatName } from "@fieldstop/core";
import { z } from "@hono/zod-openapi";
import { apertureNumber, isoNumber } from "../exposure/exposure.schema";
import { bodyNumber } from "./numbers";
import { notTogether, saying } from "./rules";

export const SensorInput = z
  .union([
    z.enum(SENSOR_FORMAT_NAMES as [SensorFormatName, ...SensorFormatName[]]),
    z
      .strictObject({
        widthMm: bodyNumber({ min: 1, max: 1000, description: "Width of the image on the sensor [mm]", example: 36 }),
        heightMm: bodyNumber({ min: 1, max: 1000, description: "Its height [mm]", example: 24 }),
        widthPx: bodyNumber({ min: 16, max: 200_000, description: "Pixels across the width" }).optional(),
      })
      .openapi("SensorSize"),
  ])
  .openapi("SensorInput", { description: "The name of a format, or a sensor's own measures", example: "full-frame" });

/** What the operations know of a camera; each uses what it needs, and says what it assumed. */
export const CameraInput = z
  .strictObject({
    sensor: SensorInput.optional(),
    focalLengthMm: bodyNumber({ min: 1, max: 10_000, description: "Focal length [mm]", example: 24 }).optional(),
    aperture: apertureNumber.optional(),
    iso: isoNumber.optional(),
    azimuthDeg: bodyNumber({
      min: 0,
      max: 360,
      description: "Where the camera points, degrees clockwise from true north",
      example: 290,
    }).optional(),
    pitchDeg: bodyNumber({ min: -90, max: 90, description: "Camera axis above the level [deg]; default 0" }).optional(),
    orientation: z.enum(["landscape", "portrait"]).optional(),
    headroomStops: bodyNumber({
      min: 0,
      max: 8,
      description: "From the meter up to clipping [stops]; default 3",
    }).optional(),
    footroomStops: bodyNumber({
      min: 0,
      max: 16,
      description: "From the meter down to the noise floor [stops]; default 6",
    }).optional(),
    dynamicRangeStops: bodyNumber({
      min: 1,
      max: 20,
      description: "From clipping down to the noise floor [stops], in place of footroomStops",
      example: 11,
    }).optional(),
    dynamicRangeIso: bodyNumber({
      min: 1,
      max: 1e7,
      description: "ISO at which the range was measured; default: the ISO in use",
    }).optional(),
  })
  .openapi("CameraInput");

/** How far a sensor reaches down, said once. */
export const latitudeRules = notTogether("footroomStops", "dynamicRangeStops");
/** A camera whose latitude counts. */
export const ExposingCamera = z.strictObject(CameraInput.shape).openapi("ExposingCameraInput", {
  description: "footroomStops or dynamicRangeStops, not both",
  ...saying(latitudeRules),
});

/** A camera that points somewhere. */
export const PointedCameraInput = z
  .strictObject({ ...CameraInput.shape, azimuthDeg: CameraInput.shape.azimuthDeg.unwrap() })
  .openapi("PointedCameraInput", {
    description: "Of which azimuthDeg, pitchDeg, sensor, focalLengthMm and orientation count",
  });

const bracketing = z
  .strictObject({
    counts: z
      .array(z.int())
      .min(1)
      .max(4)
      .optional()
      .openapi({ description: "3, 5, 7, 9", example: [3, 5] }),
    stepsStops: z
      .array(bodyNumber({ min: 0.3, max: 3, description: "Between frames [stops]" }))
      .min(1)
      .max(9)
      .optional()
      .openapi({ description: "Whole stops are used", example: [1, 2] }),
  })
  .optional()
  .openapi("BracketingInput", { description: "The bracket sets that the camera can take" });

/** A camera that goes along: the sets that it can take as well. */
export const OutingCamera = z.strictObject({ ...CameraInput.shape, bracketing }).openapi("OutingCamera", {
  description: "footroomStops or dynamicRangeStops, not both",
  ...saying(latitudeRules),
});
