import type { RankedOuting as CoreRankedOuting } from "@fieldstop/core";
import { z } from "@hono/zod-openapi";
import { ReportedPlace } from "../light/light-windows.schema";
import { OutingCamera } from "../shared/camera";
import { HorizonInput } from "../shared/horizon";
import { Instant } from "../shared/instant";
import { Assumption, Caution } from "../shared/notes";
import { bodyNumber } from "../shared/numbers";
import { PlaceInput } from "../shared/place";
import type { Assert, SameShape } from "../shared/same-shape";
import { SubjectInput } from "../shared/subject";
import { OutingInput, Verdict } from "./outing.schema";

const MOST_PLACES = 10;
const MOST_DATES = 14;

const weight = bodyNumber({
  min: 0,
  max: 10,
  description: "How much it counts; default 1, 0 leaves it out",
}).optional();

export const OutingComparisonInput = z
  .strictObject({
    places: z
      .array(
        z
          .strictObject({
            place: PlaceInput,
            camera: OutingCamera.optional().openapi({ description: "Default: the camera of the whole comparison" }),
            subject: SubjectInput.optional(),
            horizon: HorizonInput.optional(),
          })
          .openapi("ComparedPlace"),
      )
      .min(1)
      .max(MOST_PLACES),
    dates: z
      .array(z.string().max(20).openapi({ format: "date" }))
      .min(1)
      .max(MOST_DATES)
      .openapi({ description: "Local calendar days, YYYY-MM-DD", example: ["2027-03-20", "2027-03-21"] }),
    session: z.enum(["evening", "morning"]),
    camera: OutingInput.shape.camera,
    filters: OutingInput.shape.filters,
    scene: OutingInput.shape.scene,
    foreground: OutingInput.shape.foreground,
    walkInMinutes: OutingInput.shape.walkInMinutes,
    sky: OutingInput.shape.sky,
    targetShutterSeconds: OutingInput.shape.targetShutterSeconds,
    weights: z
      .strictObject({ "golden-light": weight, "late-light": weight, contrast: weight, cloud: weight })
      .openapi("CriterionWeightsInput")
      .optional(),
  })
  .openapi("OutingComparisonInput");

const ScorePart = z
  .object({
    criterion: z.enum(["golden-light", "late-light", "contrast", "cloud"]),
    value: z.number().openapi({ description: "0 worst to 1 best" }),
    weight: z.number(),
    text: z.string().openapi({ description: "What the value rests on" }),
  })
  .openapi("ScorePart");

const RankedOuting = z
  .object({
    rank: z.int(),
    score: z.number().openapi({ description: "Weighted mean of the parts, 0 to 1" }),
    parts: z.array(ScorePart),
    verdict: Verdict,
    place: ReportedPlace,
    date: z.string(),
    arriveBy: Instant,
    stayUntil: Instant,
    directLightInstant: z.union([Instant, z.null()]).openapi({
      description: "When direct light goes, or in a morning comes; null where there is none",
    }),
  })
  .openapi("RankedOuting");

export const OutingComparison = z
  .object({
    outings: z.array(RankedOuting).openapi({ description: "Best first" }),
    assumptions: z.array(Assumption),
    cautions: z.array(Caution),
  })
  .openapi("OutingComparison");

export type RankedOutingCheck = Assert<SameShape<z.output<typeof RankedOuting>, CoreRankedOuting>>;
