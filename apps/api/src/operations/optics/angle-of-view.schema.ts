import type { AngleOfViewRequest, AngleOfView as CoreAngleOfView } from "@fieldstop/core";
import { z } from "@hono/zod-openapi";
import { SensorInput } from "../shared/camera";
import { Assumption } from "../shared/notes";
import { bodyNumber } from "../shared/numbers";
import { forbidden, given, saying } from "../shared/rules";
import type { Assert, SameShape } from "../shared/same-shape";
import { focalLengthNumber, orientation } from "./camera-optics.schema";

const projection = z
  .enum(["rectilinear", "equidistant"])
  .openapi({ description: "How the lens draws: straight lines stay straight, or as the usual fisheye" });

export const AngleOfViewInput = z
  .strictObject({
    sensor: SensorInput,
    focalLengthMm: focalLengthNumber,
    projection: projection.optional(),
    orientation: orientation.optional(),
    focusDistanceM: bodyNumber({
      min: 0.002,
      max: 1e6,
      description: "Where the lens is focused [m], at least twice the focal length; default far away",
    }).optional(),
    coverageDeg: bodyNumber({
      min: 90,
      max: 360,
      description: "How much a fisheye draws at most [deg]; default 180. Only with equidistant",
    }).optional(),
    cropAspect: z.string().max(20).optional().openapi({
      description: "A shape to cut the frame to, width to height as it is held",
      example: "16:9",
      pattern: String.raw`^\d{1,4}(\.\d{1,3})?:\d{1,4}(\.\d{1,3})?$`,
    }),
  })
  .openapi("AngleOfViewInput", {
    description: "coverageDeg only with an equidistant lens",
    ...saying(forbidden(given("coverageDeg"), { not: given("projection", { const: "equidistant" }) })),
  });

const viewAngles = {
  horizontalDeg: z.number(),
  verticalDeg: z.number(),
  diagonalDeg: z.number(),
};
const fullFrameEquivalentMm = z
  .number()
  .openapi({ description: "The focal length that takes in the same diagonal on full frame [mm]" });

export const AngleOfView = z
  .object({
    projection,
    orientation,
    widthMm: z.number().openapi({ description: "Of the frame as it is held [mm]" }),
    heightMm: z.number(),
    ...viewAngles,
    cropFactor: z.number(),
    fullFrameEquivalentMm,
    fillsFrame: z.boolean().openapi({ description: "Whether the image reaches the corners; only a fisheye's may not" }),
    pixelsPerDegree: z.number().optional().openapi({ description: "In the middle, where the pixels are known" }),
    crop: z
      .object({
        widthMm: z.number(),
        heightMm: z.number(),
        cut: z.enum(["top-and-bottom", "sides", "nothing"]),
        keptPercent: z.number(),
        lostPercent: z.number(),
        widthPx: z.int().optional(),
        heightPx: z.int().optional(),
        megapixels: z.number().optional(),
        ...viewAngles,
        fullFrameEquivalentMm,
      })
      .openapi("CroppedView")
      .optional(),
    assumptions: z.array(Assumption),
  })
  .openapi("AngleOfView");

export type AngleOfViewChecks = [
  Assert<SameShape<z.output<typeof AngleOfViewInput>, AngleOfViewRequest>>,
  Assert<SameShape<z.output<typeof AngleOfView>, CoreAngleOfView>>,
];
