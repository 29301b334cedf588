import type { BodyInFrame as CoreBodyInFrame } from "@fieldstop/core";
import { z } from "@hono/zod-openapi";
import { CameraInput } from "../shared/camera";
import { HorizonInput, HorizonReport } from "../shared/horizon";
import { Instant, InstantInput } from "../shared/instant";
import { Assumption, Caution } from "../shared/notes";
import { bodyNumber } from "../shared/numbers";
import { PlaceInput } from "../shared/place";
import type { Assert, SameShape } from "../shared/same-shape";
import { SkylineInFrame } from "./skyline.schema";

const FramingCameraInput = z
  .strictObject({
    ...CameraInput.shape,
    azimuthDeg: CameraInput.shape.azimuthDeg.unwrap(),
    rollDeg: bodyNumber({
      min: -180,
      max: 180,
      description: "Clockwise as seen from behind the camera is positive [deg]; default 0",
    }).optional(),
    projection: z
      .enum(["rectilinear", "equidistant"])
      .optional()
      .openapi({ description: "Default rectilinear; equidistant is the usual fisheye" }),
  })
  .openapi("FramingCameraInput");

export const SkylineInput = z
  .strictObject({
    place: PlaceInput,
    camera: FramingCameraInput,
    horizon: HorizonInput.optional(),
    instant: InstantInput.optional(),
  })
  .openapi("SkylineInput");

const part = (description: string) => z.union([z.number(), z.null()]).openapi({ description });

const BodyInFrame = z
  .object({
    x: part(
      "From 0 at the left edge of the frame to 1 at the right; null where it is farther off than the frame is wide",
    ),
    y: part("From 0 at the top edge to 1 at the bottom; null with x"),
    inFrame: z.boolean().openapi({ description: "Any of the disc, whether land covers it or not" }),
    aboveSkyline: z.boolean().openapi({ description: "The top of the disc stands over the skyline" }),
    azimuthDeg: z.number(),
    altitudeDeg: z.number().openapi({ description: "Apparent altitude of the centre [deg]" }),
    discDiameterPercent: part("Upright diameter of the disc [% of the frame's height]; null with x"),
  })
  .openapi("BodyInFrame");

const FramingCamera = z
  .object({
    azimuthDeg: z.number(),
    pitchDeg: z.number(),
    rollDeg: z.number(),
    focalLengthMm: z.number(),
    widthMm: z.number(),
    heightMm: z.number(),
    projection: z.enum(["rectilinear", "equidistant"]),
  })
  .openapi("FramingCamera", { description: "The camera as it was reckoned with, its sides as it is held" });

export const ProjectedSkyline = z
  .object({
    timeZone: z.string(),
    instant: Instant,
    camera: FramingCamera,
    ...SkylineInFrame.shape,
    sun: BodyInFrame,
    moon: z.object({ ...BodyInFrame.shape, illuminatedFraction: z.number() }).openapi("MoonInFrame"),
    horizon: HorizonReport,
    assumptions: z.array(Assumption),
    cautions: z.array(Caution),
  })
  .openapi("ProjectedSkyline");

export type BodyInFrameCheck = Assert<SameShape<z.output<typeof BodyInFrame>, CoreBodyInFrame>>;
