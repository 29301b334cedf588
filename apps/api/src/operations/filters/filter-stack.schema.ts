import type { FilterReading as CoreFilterReading, FilterStack as CoreFilterStack } from "@fieldstop/core";
import { z } from "@hono/zod-openapi";
import { apertureNumber, isoNumber, ShutterSetting } from "../exposure/exposure.schema";
import { Assumption, Caution } from "../shared/notes";
import { bodyNumber } from "../shared/numbers";
import { notTogether, saying, together } from "../shared/rules";
import type { Assert, SameShape } from "../shared/same-shape";
import { FilterInput } from "./filter.schema";

/** The exposure before any filter, apart from its shutter time. */
export const baseExposure = {
  aperture: apertureNumber.optional(),
  iso: isoNumber.optional(),
  ev100: bodyNumber({
    min: -40,
    max: 40,
    description: "The light as EV at ISO 100; with aperture and iso in place of baseShutterSeconds",
    example: 12,
  }).optional(),
};

/** Aperture and ISO go together; a time and a light would each give the other. */
export const baseExposureRules = [together("aperture", "iso"), notTogether("baseShutterSeconds", "ev100", "aperture")];

/** The camera that filters go on, for the warnings. */
export const filteredCamera = {
  maxShutterSeconds: bodyNumber({
    min: 0.001,
    max: 1e7,
    description: "Longest time that the camera counts by itself [s]; default 30 s",
  }).optional(),
  meteringLimitEv100: bodyNumber({
    min: -40,
    max: 40,
    description: "Darkest light that the camera meters [EV100]; default -3",
  }).optional(),
  focalLengthMm: bodyNumber({
    min: 1,
    max: 10_000,
    description: "Focal length [mm], to judge stacking on a wide lens; default: not judged",
    example: 20,
  }).optional(),
  cropFactor: bodyNumber({ min: 0.1, max: 20, description: "Crop factor; default 1" }).optional(),
};

export const FilterStackInput = z
  .strictObject({
    filters: z
      .array(FilterInput)
      .max(10)
      .openapi({
        description: "The filters on the lens, in any order",
        example: [
          { kind: "nd", factor: 1000 },
          { kind: "nd", density: 0.9 },
        ],
      }),
    baseShutterSeconds: bodyNumber({
      min: 1e-6,
      max: 1e7,
      description: "Shutter time without filters [s], multiplied as it is: 0.008 is 8 ms, not the mark 1/125 s",
      example: 0.008,
    }).optional(),
    ...baseExposure,
    ...filteredCamera,
  })
  .openapi("FilterStackInput", {
    description: "aperture and iso go together; with them, baseShutterSeconds or ev100",
    ...saying(...baseExposureRules),
  });

export const FilterWarning = z
  .object({
    code: z.enum(["needs-bulb", "past-metering-range", "wide-lens-stack", "two-polarizers"]),
    text: z.string(),
  })
  .openapi("FilterWarning");

const FilterReading = z
  .object({
    kind: z.enum(["nd", "graduated", "polarizer"]),
    attenuationStops: z.number().openapi({ description: "What it takes from the whole frame [stops]" }),
    graduatedStops: z.number().openapi({ description: "What it takes from the sky alone [stops]" }),
    mark: z.string().openapi({ description: "As it was given", example: "ND1000" }),
    markedStops: z.number().openapi({ description: "What it is sold as [stops]", example: 10 }),
    transition: z.enum(["hard", "medium", "soft", "reverse"]).optional(),
  })
  .openapi("FilterReading");

export const FilterStack = z
  .object({
    attenuationStops: z
      .number()
      .openapi({ description: "What the stack takes from the whole frame [stops]", example: 12.95552 }),
    markedStops: z.number().openapi({ description: "What it is sold as [stops]", example: 13 }),
    density: z.number().openapi({ example: 3.9 }),
    factor: z.number().openapi({ description: "How many times longer the exposure becomes", example: 7943.2823 }),
    transmittancePercent: z.number(),
    graduatedStops: z.number().openapi({ description: "What graduated filters take from the sky besides [stops]" }),
    skyAttenuationStops: z.number().openapi({ description: "What the sky loses in all [stops]" }),
    filters: z.array(FilterReading).openapi({ description: "In the order given" }),
    baseShutter: ShutterSetting.optional(),
    shutter: ShutterSetting.optional().openapi({ description: "Present where the time without filters is known" }),
    ev100: z.number().optional(),
    warnings: z.array(FilterWarning),
    cautions: z.array(Caution),
    assumptions: z.array(Assumption),
  })
  .openapi("FilterStack");

export type FilterStackChecks = [
  Assert<SameShape<z.output<typeof FilterReading>, CoreFilterReading>>,
  Assert<SameShape<z.output<typeof FilterStack>, CoreFilterStack>>,
];
