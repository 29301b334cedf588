import type {
  BracketPlan as CoreBracketPlan,
  BracketReview as CoreBracketReview,
  Caution as CoreCaution,
} from "@fieldstop/core";
import { z } from "@hono/zod-openapi";
import { subjectMotion } from "../exposure/exposure.schema";
import { FilterList } from "../filters/filter.schema";
import { CameraInput, ExposingCamera, latitudeRules } from "../shared/camera";
import { Assumption, Caution } from "../shared/notes";
import { bodyNumber } from "../shared/numbers";
import { exactlyOneOf, saying } from "../shared/rules";
import type { Assert, SameShape } from "../shared/same-shape";

const ev = (description: string, example: number) => bodyNumber({ min: -40, max: 40, description, example });
const overlapStops = bodyNumber({
  min: 0,
  max: 12,
  description: "Range that neighbouring frames are to share [stops]; default 1",
}).optional();

export const BracketInput = z
  .strictObject({
    shadowEv100: ev("Darkest part of the scene that is to show detail [EV100]", 3),
    highlightEv100: ev("Brightest part of the scene that is to show detail [EV100]", 16),
    camera: z
      .strictObject({
        ...CameraInput.shape,
        minShutterSeconds: bodyNumber({
          min: 1e-6,
          max: 1,
          description: "Fastest shutter [s]; default 1/8000 s",
        }).optional(),
        maxShutterSeconds: bodyNumber({
          min: 0.001,
          max: 1e7,
          description: "Longest time that the camera counts by itself [s]; default 30 s",
        }).optional(),
        frameGapSeconds: bodyNumber({
          min: 0,
          max: 600,
          description: "From the end of one frame to the start of the next [s]; default 0.5",
        }).optional(),
      })
      .openapi("BracketCameraInput", saying(latitudeRules))
      .optional(),
    stepStops: bodyNumber({
      min: 0.3,
      max: 3,
      description: "Step between frames [stops], as menus show it; default: whichever needs the fewest frames",
      example: 1,
    }).optional(),
    counts: z
      .union([z.array(z.int().min(1).max(99)).min(1).max(99), z.literal("any")])
      .optional()
      .openapi({ description: "Counts that may be used; default 3, 5, 7, 9, or a single frame where it suffices" }),
    overlapStops,
    meteredEv100: ev("What the camera meters, which biases count from; default: what suits the scene", 11).optional(),
    symmetric: z
      .boolean()
      .optional()
      .openapi({ description: "Whether the set must lie evenly about the metered exposure; default false" }),
    filters: FilterList.optional(),
    lightStopsPerMinute: bodyNumber({
      min: -20,
      max: 20,
      description: "How fast the light goes [stops/min]",
    }).optional(),
    subject: z
      .strictObject({
        pxPerSecond: bodyNumber({
          min: 0,
          max: 1e9,
          description: "Speed of the image [px/s]; this or motion",
        }).optional(),
        motion: z.strictObject(subjectMotion).openapi("SubjectMotionInput").optional(),
        budgetPx: bodyNumber({
          over: 0,
          max: 1e6,
          description: "Shift between frames that a blend hides [px]",
          example: 4,
        }),
      })
      .openapi("MovingSubjectInput", saying(exactlyOneOf("pxPerSecond", "motion")))
      .optional()
      .openapi({ description: "Something that moves while the set is taken" }),
  })
  .openapi("BracketInput");

const coversEv100 = (description: string) =>
  z
    .array(z.number())
    .min(2)
    .max(2)
    .openapi({ description, example: [7, 16] });

export const BracketFrame = z
  .object({
    biasStops: z
      .number()
      .openapi({ description: "Against the base exposure [stops], positive for brighter", example: -2 }),
    shutterSeconds: z.number().openapi({ description: "Exact time [s]", example: 0.0078125 }),
    nominal: z.string().openapi({ description: "The nearest mark", example: "1/125 s" }),
    nominalSeconds: z.number().openapi({ example: 0.008 }),
    coversEv100: coversEv100("What the frame holds of the scene [EV100]"),
  })
  .openapi("BracketFrame");

export const BracketPlan = z
  .object({
    frames: z.array(BracketFrame).openapi({ description: "From the darkest to the brightest" }),
    count: z.int(),
    stepStops: z.number().openapi({ description: "0 for a single frame" }),
    shiftStops: z.number().openapi({ description: "Of the middle of the set against the metered exposure" }),
    baseEv100: z.number().openapi({ description: "What the frame without bias is exposed for [EV100]" }),
    totalSeconds: z.number().openapi({ description: "At the camera, gaps between frames included [s]" }),
    coverageStops: z.number(),
    coversEv100: coversEv100("What the set holds of the scene [EV100]"),
    sceneRangeStops: z.number(),
    latitude: z.object({ headroomStops: z.number(), footroomStops: z.number() }).openapi("ExposureLatitude"),
    reasons: z.array(
      z
        .object({
          code: z.enum(["scene-range", "single-frame", "frames", "fewer-fall-short", "shifted", "one-would-do"]),
          text: z.string(),
        })
        .openapi("BracketReason"),
    ),
    warnings: z.array(
      z
        .object({
          code: z.enum(["needs-bulb", "faster-than-shutter", "light-drift", "subject-displacement", "between-marks"]),
          text: z.string(),
          frames: z.array(z.int()).optional().openapi({ description: "Which frames, counted from 0" }),
        })
        .openapi("BracketWarning"),
    ),
    assumptions: z.array(Assumption),
    cautions: z.array(Caution),
  })
  .openapi("BracketPlan");

const counts = z
  .array(z.number().min(0).max(1e15))
  .min(256)
  .max(65_536)
  .openapi({ description: "Pixels in each bin, from black to white" });

const Histogram = z.strictObject({ red: counts, green: counts, blue: counts }).openapi("Histogram", {
  description: "256 bins or more, the same number for each channel",
});

export const ReviewInput = z
  .strictObject({
    frames: z
      .array(
        z
          .strictObject({
            biasStops: bodyNumber({ min: -20, max: 20, description: "Against the base exposure [stops]", example: -2 }),
            histogram: Histogram,
            coding: z.enum(["srgb", "linear"]).openapi({ description: "What the bins count by: sRGB code or light" }),
          })
          .openapi("FrameHistogram"),
      )
      .min(1)
      .max(99),
    camera: ExposingCamera.optional(),
    clippedTolerancePercent: bodyNumber({
      min: 0,
      max: 50,
      description: "Pixels that may clip [%]; default 0.1",
    }).optional(),
    blockedTolerancePercent: bodyNumber({
      min: 0,
      max: 50,
      description: "Pixels that may be black [%]; default 0.1",
    }).optional(),
    overlapStops,
  })
  .openapi("ReviewInput");

const shares = {
  clippedHighlightPercent: z.number().openapi({ description: "Pixels that clip [%]" }),
  blockedShadowPercent: z.number().openapi({ description: "Pixels under the noise floor [%]" }),
};
const ChannelShares = z.object(shares).openapi("ChannelShares");
const nullableStops = (description: string) => z.union([z.number(), z.null()]).openapi({ description });

export const BracketReview = z
  .object({
    frames: z.array(
      z
        .object({
          biasStops: z.number(),
          ...shares,
          needed: z.boolean().openapi({ description: "Whether the blend with the fewest frames uses it" }),
          channels: z
            .object({ red: ChannelShares, green: ChannelShares, blue: ChannelShares })
            .openapi("SharesByChannel"),
        })
        .openapi("ReviewedFrame"),
    ),
    sceneRangeStops: z.number(),
    sceneRangeIsMinimum: z.boolean().openapi({ description: "Whether the scene goes further than the frames do" }),
    highlightStops: z.number().openapi({ description: "Against clipping in a frame without bias [stops]" }),
    shadowStops: z.number().openapi({ description: "Against clipping in a frame without bias [stops]" }),
    fewestFrames: z.int(),
    leaveOut: z.array(z.int()).openapi({ description: "Frames that the blend does without, counted from 0 as given" }),
    missing: z.array(
      z
        .object({
          biasStops: z.number(),
          code: z.enum(["highlights-clip", "shadows-blocked", "gap"]),
          reason: z.string(),
          likelyBiasStops: nullableStops("Bias that may really be needed; null where that cannot be told"),
        })
        .openapi("MissingFrame"),
    ),
    changes: z.array(
      z
        .object({
          code: z.enum([
            "nothing",
            "add-darker",
            "add-brighter",
            "add-between",
            "shift-darker",
            "shift-brighter",
            "fewer-frames",
            "one-frame",
            "check-bias",
            "tone-curve",
          ]),
          text: z.string(),
        })
        .openapi("BracketChange"),
    ),
    alignment: z.array(
      z
        .object({
          fromBiasStops: z.number(),
          toBiasStops: z.number(),
          errorStops: nullableStops("How much brighter the second frame is than its bias says"),
          spreadStops: nullableStops("How much that differs between dark and bright parts"),
        })
        .openapi("FrameAlignment"),
    ),
    assumptions: z.array(Assumption),
  })
  .openapi("BracketReview");

export type BracketChecks = [
  Assert<SameShape<z.output<typeof BracketPlan>, CoreBracketPlan & { readonly cautions: readonly CoreCaution[] }>>,
  Assert<SameShape<z.output<typeof BracketReview>, CoreBracketReview>>,
];
