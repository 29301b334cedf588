import type { Panorama as CorePanorama, PanoramaRequest } from "@fieldstop/core";
import { z } from "@hono/zod-openapi";
import { SensorInput } from "../shared/camera";
import { Assumption } from "../shared/notes";
import { bodyNumber } from "../shared/numbers";
import type { Assert, SameShape } from "../shared/same-shape";
import { focalLengthNumber, orientation } from "./camera-optics.schema";

export const PanoramaInput = z
  .strictObject({
    sensor: SensorInput,
    focalLengthMm: focalLengthNumber,
    horizontalDeg: bodyNumber({ min: 1, max: 360, description: "How wide the panorama is [deg]", example: 180 }),
    verticalDeg: bodyNumber({
      min: 1,
      max: 180,
      description: "How high it is [deg]; default: what one row holds",
    }).optional(),
    pitchDeg: bodyNumber({
      min: -90,
      max: 90,
      description: "Altitude of its middle [deg]; default 0",
    }).optional(),
    azimuthDeg: bodyNumber({
      min: -360,
      max: 360,
      description: "Azimuth of its middle, degrees clockwise from true north",
      example: 270,
    }).optional(),
    overlap: bodyNumber({
      min: 0.05,
      max: 0.8,
      description: "Part of a frame that its neighbour covers again; default 0.3",
    }).optional(),
    orientation: orientation.optional().openapi({ description: "Default portrait" }),
  })
  .openapi("PanoramaInput");

export const Panorama = z
  .object({
    orientation,
    columns: z.int().openapi({ description: "Frames in the longest row" }),
    rows: z.int(),
    count: z.int().openapi({ description: "Frames in all" }),
    overlap: z.number(),
    yawStepDeg: z.number().openapi({ description: "Turn between frames of the longest row [deg]; 0 for a single one" }),
    pitchStepDeg: z.number().openapi({ description: "Tilt between rows [deg]; 0 for a single one" }),
    rowPlans: z
      .array(
        z
          .object({
            pitchDeg: z.number(),
            columns: z.int(),
            yawStepDeg: z.number(),
            yawsDeg: z.array(z.number()).openapi({ description: "From the middle, left negative [deg]" }),
            azimuthsDeg: z
              .array(z.number())
              .optional()
              .openapi({ description: "Clockwise from true north [deg], where the middle's is known" }),
          })
          .openapi("PanoramaRow"),
      )
      .openapi({ description: "From the lowest to the highest" }),
    frameHorizontalDeg: z.number().openapi({ description: "What one frame takes in [deg]" }),
    frameVerticalDeg: z.number(),
    minAltitudeDeg: z.number().openapi({ description: "Altitude down to which everything is held [deg]" }),
    maxAltitudeDeg: z.number(),
    stitched: z
      .array(
        z
          .object({
            projection: z.enum(["equirectangular", "cylindrical"]),
            widthPx: z.int(),
            heightPx: z.int(),
            megapixels: z.number(),
          })
          .openapi("StitchedSize"),
      )
      .openapi({ description: "The stitched picture at the scale of the middle of a frame, where pixels are known" }),
    assumptions: z.array(Assumption),
  })
  .openapi("Panorama");

export type PanoramaChecks = [
  Assert<SameShape<z.output<typeof PanoramaInput>, PanoramaRequest>>,
  Assert<SameShape<z.output<typeof Panorama>, CorePanorama>>,
];
