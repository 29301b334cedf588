import type { CameraHeights as CoreCameraHeights } from "@fieldstop/core";
import { z } from "@hono/zod-openapi";
import { CameraInput } from "../shared/camera";
import { HorizonInput, HorizonReport } from "../shared/horizon";
import { Assumption, Caution } from "../shared/notes";
import { bodyNumber } from "../shared/numbers";
import { PlaceInput } from "../shared/place";
import { absent, atLeastOneOf, forbidden, given, saying } from "../shared/rules";
import type { Assert, SameShape } from "../shared/same-shape";

const ForegroundThing = z
  .strictObject({
    name: z.string().max(200).optional().openapi({ example: "boulder" }),
    distanceM: bodyNumber({ min: 0.2, max: 2000, description: "From the camera [m]", example: 5 }),
    topM: bodyNumber({
      min: -50,
      max: 200,
      description: "Height of its top above the ground that the tripod stands on [m]",
      example: 1.5,
    }).optional(),
    undersideM: bodyNumber({
      min: -50,
      max: 200,
      description: "Height of its underside [m]: an arch, a branch, a bridge; alone or with a top above it",
    }).optional(),
    azimuthDeg: bodyNumber({
      min: 0,
      max: 360,
      description: "Where its middle stands, degrees clockwise from true north; default: where the camera points",
    }).optional(),
    widthDeg: bodyNumber({
      min: 0,
      max: 90,
      description: "How wide it looks [deg]; default 0, its middle alone",
    }).optional(),
  })
  .openapi("ForegroundThing", {
    description: "A top, an underside, or both",
    ...saying(atLeastOneOf("topM", "undersideM")),
  });

export const CameraHeightInput = z
  .strictObject({
    place: PlaceInput,
    horizon: HorizonInput.optional(),
    camera: CameraInput.optional(),
    things: z.array(ForegroundThing).min(1).max(20),
    minHeightM: bodyNumber({ min: 0.01, max: 20, description: "Lowest camera [m]; default 0.1" }).optional(),
    maxHeightM: bodyNumber({ min: 0.01, max: 20, description: "Highest camera [m]; default 2" }).optional(),
  })
  .openapi("CameraHeightInput", {
    description: "Each thing has an azimuth, or the camera has; minHeightM is less than maxHeightM",
    ...saying(
      forbidden({ properties: { camera: absent("azimuthDeg") } }, given("things", { contains: absent("azimuthDeg") })),
      // at or past the usual end of the range, which stands for the one that is not given
      forbidden(absent("maxHeightM"), given("minHeightM", { minimum: 2 })),
      forbidden(absent("minHeightM"), given("maxHeightM", { maximum: 0.1 })),
    ),
  });

const HeightAnswer = z
  .discriminatedUnion("kind", [
    z.object({ kind: z.literal("between"), fromM: z.number(), toM: z.number() }).openapi("HeightBetween"),
    z.object({ kind: z.literal("always") }).openapi("HeightAlways"),
    z
      .object({
        kind: z.literal("never"),
        nearestM: z.union([z.number(), z.null()]).openapi({
          description:
            "The height out of the range at which it would begin [m]; null where none above the ground would do",
        }),
      })
      .openapi("HeightNever"),
  ])
  .openapi("HeightAnswer", { description: "At which camera heights something is so, of those asked about" });

const HeightRange = z
  .object({ state: z.enum(["clear", "framed-under", "hidden", "partly"]), fromM: z.number(), toM: z.number() })
  .openapi("HeightRange");

const VerticalFraming = z
  .discriminatedUnion("kind", [
    z
      .object({
        kind: z.literal("fits"),
        verticalAngleDeg: z.number(),
        pitchDeg: z.number().openapi({ description: "Leaves as much room above as below" }),
        minPitchDeg: z.number(),
        maxPitchDeg: z.number(),
      })
      .openapi("VerticalFit"),
    z
      .object({ kind: z.literal("too-tall"), verticalAngleDeg: z.number(), lensAngleDeg: z.number() })
      .openapi("VerticalMisfit"),
  ])
  .openapi("VerticalFraming", {
    description:
      "Whether the thing, from its foot or underside up, and the ridge go into one frame turned to the thing",
  });

const HeightView = z
  .object({
    heightM: z.number(),
    ridgeAltitudeDeg: z.number(),
    topAltitudeDeg: z.number().optional(),
    undersideAltitudeDeg: z.number().optional(),
    gapDeg: z.number().openapi({
      description: "How far the ridge stands over the top or under the underside; negative where it is hidden",
    }),
    framing: VerticalFraming,
    per10Cm: z
      .object({
        edgeDeg: z.number(),
        ridgeDeg: z.number(),
        gapDeg: z.number().openapi({ description: "Opening is positive" }),
        gapFramePercent: z.number().openapi({ description: "The same [% of the frame's height]" }),
        gapPx: z.number().optional(),
      })
      .openapi("HeightStep", { description: "What another 10 cm of camera height change" }),
  })
  .openapi("HeightView");

const ObstacleClearance = z
  .object({
    name: z.string().optional(),
    azimuthDeg: z.number(),
    widthDeg: z.number(),
    distanceM: z.number(),
    topM: z.number().optional(),
    undersideM: z.number().optional(),
    ridge: z
      .object({ azimuthDeg: z.number(), altitudeDeg: z.number(), distanceM: z.union([z.number(), z.null()]) })
      .openapi("RidgePoint", { description: "The ridge behind its middle, from the eye height of the skyline" }),
    clears: HeightAnswer.openapi({ description: "The ridge stands over the top, all along the width" }),
    framedUnder: HeightAnswer.openapi({ description: "The ridge stands under the underside, all along the width" }),
    hidden: HeightAnswer.openapi({ description: "The thing covers the ridge, all along the width" }),
    ranges: z.array(HeightRange).openapi({ description: "All heights asked about, cut where the state changes" }),
    views: z.array(HeightView).openapi({ description: "What the camera sees at the ends of those ranges" }),
  })
  .openapi("ObstacleClearance");

const heights = {
  minHeightM: z.number(),
  maxHeightM: z.number(),
  things: z.array(ObstacleClearance),
  open: z.array(z.object({ fromM: z.number(), toM: z.number() }).openapi("OpenHeights")).openapi({
    description: "Heights at which the ridge is open past every thing; empty where there are none",
  }),
  assumptions: z.array(Assumption),
};

export const CameraHeights = z
  .object({ ...heights, horizon: HorizonReport, cautions: z.array(Caution) })
  .openapi("CameraHeights");

const Mirror = z.object(heights);
export type CameraHeightsCheck = Assert<SameShape<z.output<typeof Mirror>, CoreCameraHeights>>;
