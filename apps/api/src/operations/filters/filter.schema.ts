import type { Filter as CoreFilter } from "@fieldstop/core";
import { z } from "@hono/zod-openapi";
import { bodyNumber } from "../shared/numbers";
import { exactlyOneOf, saying } from "../shared/rules";
import type { Assert, SameShape } from "../shared/same-shape";

const strength = {
  stops: bodyNumber({ min: 0, max: 20, description: "Strength [stops]", example: 6 }).optional(),
  density: bodyNumber({ min: 0, max: 6.0206, description: "Optical density, in place of stops" }).optional(),
  factor: bodyNumber({
    min: 1,
    max: 1_048_576,
    description: "Filter factor, in place of stops: 1000 for an ND1000",
  }).optional(),
  transmittancePercent: bodyNumber({
    min: 100 / 2 ** 20,
    max: 100,
    description: "Transmittance [%], in place of stops",
  }).optional(),
};

const oneStrength = saying(exactlyOneOf(...Object.keys(strength)));

/** A filter: exactly one strength for nd and graduated. */
export const FilterInput = z
  .discriminatedUnion("kind", [
    z.strictObject({ kind: z.literal("nd"), ...strength }).openapi("NeutralDensityInput", {
      description:
        "Neutral density over the whole frame: exactly one of stops, density, factor and transmittancePercent",
      ...oneStrength,
    }),
    z
      .strictObject({
        kind: z.literal("graduated"),
        ...strength,
        transition: z.enum(["hard", "medium", "soft", "reverse"]),
      })
      .openapi("GraduatedInput", {
        description:
          "Neutral density over the sky alone: exactly one of stops, density, factor and transmittancePercent",
        ...oneStrength,
      }),
    z
      .strictObject({
        kind: z.literal("polarizer"),
        lossStops: bodyNumber({ min: 0, max: 20, description: "What it takes [stops]; default 1.5" }).optional(),
      })
      .openapi("PolarizerInput"),
  ])
  .openapi("FilterInput");

export const FilterList = z
  .array(FilterInput)
  .max(20)
  .openapi({
    description: "Filters on the lens, in any order",
    example: [{ kind: "nd", stops: 6 }],
  });

export type FilterCheck = Assert<SameShape<z.output<typeof FilterInput>, CoreFilter>>;
