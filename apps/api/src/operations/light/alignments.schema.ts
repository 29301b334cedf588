import type { Alignments as CoreAlignments } from "@fieldstop/core";
import { z } from "@hono/zod-openapi";
import { HorizonInput } from "../shared/horizon";
import { Instant } from "../shared/instant";
import { Assumption, Caution } from "../shared/notes";
import { bodyNumber } from "../shared/numbers";
import { PlaceInput } from "../shared/place";
import type { Assert, SameShape } from "../shared/same-shape";
import { SkyPosition } from "../shared/sky-position";
import { MoonPhaseName } from "../sky/moon-phase-name.schema";

const day = (description: string, example: string) =>
  z.string().max(20).openapi({ format: "date", description, example });
const azimuthDeg = bodyNumber({ min: 0, max: 360, description: "Degrees clockwise from true north", example: 286 });

const Target = z
  .discriminatedUnion("kind", [
    z
      .strictObject({
        kind: z.literal("direction"),
        azimuthDeg,
        altitudeDeg: bodyNumber({ min: -5, max: 90, description: "Apparent altitude of the centre [deg]", example: 3 }),
      })
      .openapi("DirectionTarget"),
    z
      .strictObject({
        kind: z.literal("skyline"),
        azimuthDeg,
        limb: z.enum(["upper", "centre", "lower"]).optional().openapi({
          description: "Which part of the disc touches the skyline; default centre",
        }),
      })
      .openapi("SkylineTarget"),
  ])
  .openapi("AlignmentTarget");

const range = (min: number, max: number, description: string) =>
  z.array(z.number().min(min).max(max)).min(2).max(2).optional().openapi({ description });

export const AlignmentInput = z
  .strictObject({
    place: PlaceInput,
    body: z.enum(["sun", "moon"]),
    target: Target,
    toleranceDeg: bodyNumber({
      min: 0.01,
      max: 10,
      description: "How far from the target still counts [deg]; default 0.5",
      example: 0.5,
    }).optional(),
    from: day("First local day", "2027-01-01"),
    to: day("The day after the last; at most 20 years on", "2028-01-01"),
    horizon: HorizonInput.optional(),
    sunAltitudeDeg: range(-90, 90, "Only while the sun's true altitude is between these [deg]"),
    illuminatedFraction: range(0, 1, "Only while this part of the moon is lit, least and most"),
    limit: z.int().min(1).max(5000).optional().openapi({ description: "Most hits; default 500" }),
  })
  .openapi("AlignmentInput");

const SkyAlignment = z
  .object({
    instant: Instant,
    date: z.string().openapi({ description: "The local day" }),
    position: SkyPosition,
    separationDeg: z.number().openapi({ description: "How far from the target" }),
    passage: z.union([z.enum(["rising", "setting"]), z.null()]).openapi({
      description: "Whether the body comes up or goes down on the skyline; null for a direction",
    }),
    sunAltitudeDeg: z.number(),
    moon: z
      .object({
        illuminatedFraction: z.number(),
        phaseName: MoonPhaseName,
      })
      .openapi("AlignmentMoon"),
  })
  .openapi("SkyAlignment");

export const Alignments = z
  .object({
    alignments: z.array(SkyAlignment),
    truncated: z.boolean().openapi({ description: "Whether more were found than the limit lets through" }),
    daysSearched: z.int(),
    assumptions: z.array(Assumption),
    cautions: z.array(Caution),
  })
  .openapi("Alignments");

export type AlignmentsCheck = Assert<SameShape<z.output<typeof Alignments>, CoreAlignments>>;
