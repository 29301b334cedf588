import type {
  GraduatedInFrame as CoreGraduatedInFrame,
  GraduatedObstacle as CoreGraduatedObstacle,
} from "@fieldstop/core";
import { z } from "@hono/zod-openapi";
import { StraightLine } from "../framing/skyline.schema";
import { PointedCameraInput } from "../shared/camera";
import { HorizonInput } from "../shared/horizon";
import { Instant, InstantInput } from "../shared/instant";
import { Assumption, Caution } from "../shared/notes";
import { bodyNumber } from "../shared/numbers";
import { PlaceInput } from "../shared/place";
import type { Assert, SameShape } from "../shared/same-shape";
import { SkyInput } from "../shared/sky";
import { SkyPosition } from "../shared/sky-position";
import { SurfaceInput } from "../shared/subject";
import { FilterInput } from "./filter.schema";

const ObstacleInput = z
  .strictObject({
    name: z.string().min(1).max(100).optional().openapi({ example: "the stack" }),
    azimuthDeg: bodyNumber({ min: 0, max: 360, description: "Of its middle", example: 290 }),
    altitudeDeg: bodyNumber({ min: -90, max: 90, description: "Of its middle [deg]", example: 4 }),
    widthDeg: bodyNumber({ min: 0.01, max: 180, description: "[deg]", example: 6 }),
    heightDeg: bodyNumber({ min: 0.01, max: 180, description: "[deg]", example: 10 }),
  })
  .openapi("ObstacleInput", { description: "A thing that stands across the skyline, as an angular box" });

export const GraduatedAssessmentInput = z
  .strictObject({
    place: PlaceInput,
    instant: InstantInput.optional().openapi({ description: "Default: now" }),
    camera: PointedCameraInput,
    horizon: HorizonInput.optional(),
    subject: SurfaceInput.optional(),
    sky: SkyInput.optional(),
    obstacles: z.array(ObstacleInput).max(50).optional(),
    contrastStops: bodyNumber({
      min: -40,
      max: 40,
      description: "The sky over the ground as it was metered [stops]; default: predicted from the light",
      example: 4.5,
    }).optional(),
    residualStops: bodyNumber({
      min: 0,
      max: 10,
      description: "How much brighter than the ground the sky should stay [stops]; default 1",
    }).optional(),
    available: z
      .array(FilterInput.options[1])
      .min(1)
      .max(50)
      .optional()
      .openapi({ description: "Graduated filters in the bag; default: density 0.6, 0.9 and 1.2 in each transition" }),
  })
  .openapi("GraduatedAssessmentInput");

const Reason = z
  .object({
    code: z.enum([
      "contrast-small",
      "contrast-asks",
      "sky-stays-brighter",
      "no-strength-at-hand",
      "over-still-water",
      "skyline-straight",
      "skyline-wavy",
      "skyline-uneven",
      "no-skyline",
      "no-transition-at-hand",
      "sun-on-the-line",
      "darkens-across-the-line",
      "too-much-across-the-line",
      "use-a-bracket",
    ]),
    text: z.string(),
  })
  .openapi("GraduatedReason");

const Setting = z
  .object({
    stops: z.number(),
    density: z.number(),
    mark: z.string().openapi({ description: "As the filter is marked" }),
    transition: z.enum(["hard", "medium", "soft", "reverse"]),
    position: z.number().openapi({
      description: "Where its middle goes, in the middle of the frame: 0 at the top edge, 1 at the bottom",
    }),
    tiltDeg: z.number().openapi({ description: "Clockwise positive" }),
  })
  .openapi("GraduatedSetting");

const Darkened = z
  .object({
    what: z.enum(["skyline", "obstacle"]),
    name: z.string(),
    maxStops: z.number().openapi({ description: "At its top, where it is darkest" }),
    meanStops: z.number(),
    widthPercent: z.number().openapi({ description: "Of the frame's width" }),
  })
  .openapi("DarkenedThing");

export const GraduatedAssessment = z
  .object({
    instant: Instant,
    sun: SkyPosition,
    kind: z.enum(["fits", "fits-with-cost", "does-not-fit", "not-needed"]),
    contrastStops: z.number().openapi({ description: "The sky in the frame over the ground [stops]" }),
    contrastUncertaintyStops: z.number().optional().openapi({
      description: "What a predicted contrast may be off by [± stops]; absent where it was metered",
    }),
    wantedStops: z.number().openapi({ description: "What the contrast asks for" }),
    filter: z.union([Setting, z.null()]).openapi({ description: "Null unless one fits, at a cost or without" }),
    line: z.union([StraightLine, z.null()]).openapi({ description: "Null where no skyline crosses the frame" }),
    darkens: z.array(Darkened).openapi({ description: "What it darkens that is not sky, worst first" }),
    reasons: z.array(Reason),
    assumptions: z.array(Assumption),
    cautions: z.array(Caution),
  })
  .openapi("GraduatedAssessment");

export type GraduatedAssessmentCheck = Assert<
  SameShape<Omit<z.output<typeof GraduatedAssessment>, "instant">, CoreGraduatedInFrame>
>;
export type ObstacleCheck = Assert<SameShape<z.output<typeof ObstacleInput>, CoreGraduatedObstacle>>;
