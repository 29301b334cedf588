import type { FilterChoice as CoreFilterChoice, FilterSelection as CoreFilterSelection } from "@fieldstop/core";
import { z } from "@hono/zod-openapi";
import { ShutterSetting, shutterNumber } from "../exposure/exposure.schema";
import { LightReadings, ShutterMoment } from "../exposure/light-readings.schema";
import { CloudCover } from "../shared/cloud";
import { DateInput, Instant, InstantInput } from "../shared/instant";
import { Assumption, Caution } from "../shared/notes";
import { bodyNumber } from "../shared/numbers";
import { PlaceInput } from "../shared/place";
import { absent, exactlyOneOf, forbidden, given, notTogether, onlyWith, saying } from "../shared/rules";
import type { Assert, SameShape } from "../shared/same-shape";
import { FilterInput } from "./filter.schema";
import { baseExposure, baseExposureRules, FilterWarning, filteredCamera } from "./filter-stack.schema";

const wantedNumber = (description: string) => bodyNumber({ min: 1e-6, max: 1e7, description, example: 30 });

export const FilterSelectionInput = z
  .strictObject({
    filters: z
      .array(FilterInput)
      .min(1)
      .max(12)
      .openapi({
        description: "The kit",
        example: [
          { kind: "nd", stops: 3 },
          { kind: "nd", stops: 6 },
          { kind: "nd", stops: 10 },
        ],
      }),
    wantedShutterSeconds: wantedNumber(
      "A shutter time that is wanted [s], a mark read as what it stands for",
    ).optional(),
    wantedRangeSeconds: z
      .strictObject({ min: wantedNumber("[s]"), max: wantedNumber("[s]") })
      .openapi("ShutterRangeInput")
      .optional()
      .openapi({
        description: "Times that will do, in place of wantedShutterSeconds",
        example: { min: 1, max: 8 },
      }),
    toleranceStops: bodyNumber({
      min: 0,
      max: 3,
      description: "How far from what is wanted still counts [stops]; default 0.5 for a single time, 0 for a range",
    }).optional(),
    baseShutterSeconds: shutterNumber.optional().openapi({
      description: "Shutter time without filters [s]; or aperture and iso with ev100, a place or readings",
      example: 0.0667,
    }),
    ...baseExposure,
    ...filteredCamera,
    maxStacked: z
      .int()
      .min(1)
      .max(4)
      .optional()
      .openapi({ description: "Most filters on the lens at once; default 3" }),
    maxChoices: z.int().min(1).max(50).optional().openapi({ description: "Most choices in the answer; default 20" }),
    place: PlaceInput.optional().openapi({
      description: "How the light goes, by sun and moon at a place; with aperture and iso. This or readings",
    }),
    date: DateInput.optional().openapi({
      description: "The local day at the place that is looked at as a whole; default: from instant on",
    }),
    readings: LightReadings.optional().openapi({
      description: "How the light goes, by a meter: instants that ascend; with aperture and iso",
    }),
    instant: InstantInput.optional().openapi({
      description:
        "When the choices are ranked for, and baseShutterSeconds or ev100 was metered; default: now, the first reading, or sunset of the date",
    }),
    cloudCover: CloudCover.optional(),
    lookAheadMinutes: bodyNumber({
      min: 1,
      max: 1440,
      description: "How far ahead of the instant the light at the place is looked at [min]; default 240",
    }).optional(),
  })
  .openapi("FilterSelectionInput", {
    description:
      "Exactly one of wantedShutterSeconds and wantedRangeSeconds. The light by baseShutterSeconds, by ev100 with aperture and iso, or over time by a place or readings with aperture and iso",
    ...saying(
      exactlyOneOf("wantedShutterSeconds", "wantedRangeSeconds"),
      ...baseExposureRules,
      notTogether("place", "readings"),
      onlyWith("place", "aperture", "iso"),
      onlyWith("readings", "aperture", "iso"),
      onlyWith("date", "place"),
      onlyWith("cloudCover", "place"),
      onlyWith("lookAheadMinutes", "place"),
      notTogether("date", "lookAheadMinutes"),
      forbidden(given("instant"), absent("place", "readings")),
      forbidden(absent("place", "readings", "baseShutterSeconds", "ev100")),
      forbidden(absent("place", "readings", "baseShutterSeconds", "aperture")),
    ),
  });

const WhenReached = z
  .discriminatedUnion("kind", [
    z
      .object({
        kind: z.literal("crosses"),
        moments: z.array(ShutterMoment),
      })
      .openapi("ReachedAt"),
    z.object({ kind: z.enum(["always-shorter", "always-longer"]) }).openapi("NeverReached"),
  ])
  .openapi("WhenReached", {
    description:
      "When the wanted time is exactly right, or that the light always asks for a shorter or a longer one while it is known",
  });

const FilterChoice = z
  .object({
    filters: z
      .array(z.int())
      .openapi({ description: "Positions in the kit, counted from 0; none for no filter at all" }),
    marks: z.array(z.string()),
    attenuationStops: z.number(),
    shutter: ShutterSetting.openapi({ description: "The time through these filters" }),
    errorStops: z.number().openapi({ description: "How much longer than wanted [stops], negative for shorter" }),
    meets: z.boolean().openapi({ description: "Whether the time is within the tolerance, or the range" }),
    warnings: z.array(FilterWarning),
    moments: WhenReached.optional(),
    windows: z
      .array(z.object({ start: Instant, end: Instant, minutes: z.number() }).openapi("ChoiceWindow"))
      .optional()
      .openapi({ description: "When these filters meet what is wanted; present where the light is known over time" }),
  })
  .openapi("FilterChoice");

export const FilterSelection = z
  .object({
    wanted: z.object({ min: ShutterSetting, max: ShutterSetting }).openapi("WantedShutterRange"),
    toleranceStops: z.number(),
    baseShutter: ShutterSetting.openapi({ description: "The time without filters" }),
    ev100: z.number().optional(),
    choices: z
      .array(FilterChoice)
      .openapi({ description: "Best first: by error, then by number of filters, then without a polarizer" }),
    consideredCount: z.int().openapi({ description: "How many combinations were weighed" }),
    meetingCount: z.int().openapi({ description: "How many of them meet what is wanted" }),
    leftOut: z
      .array(z.object({ filter: z.int(), reason: z.literal("graduated") }).openapi("LeftOutFilter"))
      .openapi({ description: "Filters that take no part, counted from 0" }),
    light: z
      .object({
        source: z.enum(["readings", "sun-and-moon"]),
        instant: Instant.openapi({ description: "When the choices are ranked for" }),
        knownFrom: Instant,
        knownUntil: Instant,
      })
      .openapi("SelectionLight")
      .optional()
      .openapi({ description: "Present where the light is known over time" }),
    cautions: z.array(Caution),
    assumptions: z.array(Assumption),
  })
  .openapi("FilterSelection");

export type FilterSelectionChecks = [
  Assert<SameShape<Omit<z.output<typeof FilterSelection>, "choices" | "light">, Omit<CoreFilterSelection, "choices">>>,
  Assert<
    SameShape<Omit<z.output<typeof FilterChoice>, "moments" | "windows">, Omit<CoreFilterChoice, "moments" | "windows">>
  >,
];
