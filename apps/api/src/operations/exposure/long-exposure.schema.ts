import { z } from "@hono/zod-openapi";
import { FilterList } from "../filters/filter.schema";
import { CloudCover } from "../shared/cloud";
import { Instant, InstantInput } from "../shared/instant";
import { Assumption, Caution } from "../shared/notes";
import { bodyNumber } from "../shared/numbers";
import { PlaceInput } from "../shared/place";
import { exactlyOneOf, onlyWith, saying } from "../shared/rules";
import {
  apertureNumber,
  atMostOneLight,
  compensationNumber,
  isoNumber,
  meterReading,
  ShutterSetting,
} from "./exposure.schema";
import { LightReadings, ShutterMoment } from "./light-readings.schema";

export const LongExposureInput = z
  .strictObject({
    ...meterReading,
    aperture: apertureNumber,
    iso: isoNumber,
    filters: FilterList.optional(),
    compensationStops: compensationNumber.optional(),
    instant: InstantInput.optional().openapi({
      description: "When the shutter opens; default: the first reading, or now at the place",
    }),
    readings: LightReadings.optional().openapi({
      description: "How the light goes, by a meter: instants that ascend. This or place",
    }),
    place: PlaceInput.optional().openapi({ description: "How the light goes, by sun and moon at a place" }),
    cloudCover: CloudCover.optional(),
    lookAheadMinutes: bodyNumber({
      min: 1,
      max: 1440,
      description: "How far ahead the light at the place is looked at [min]; default 240",
    }).optional(),
    wantedShutterSeconds: bodyNumber({
      min: 1e-6,
      max: 1e7,
      description: "A shutter time that is wanted [s]; then its latest start is looked for",
      example: 60,
    }).optional(),
    reciprocity: z
      .strictObject({
        exponent: bodyNumber({ min: 1, max: 3, description: "Exponent p of t^p", example: 1.3 }),
        thresholdSeconds: bodyNumber({
          min: 0.001,
          max: 1000,
          description: "Up to here no correction [s]; default 1",
        }).optional(),
      })
      .openapi("ReciprocityInput")
      .optional()
      .openapi({ description: "For film: how it loses speed" }),
  })
  .openapi("LongExposureInput", {
    description: "Readings or a place; the light besides in one way, where it was metered",
    ...saying(
      ...atMostOneLight,
      exactlyOneOf("readings", "place"),
      onlyWith("cloudCover", "place"),
      onlyWith("lookAheadMinutes", "place"),
    ),
  });

const nullableStops = (description: string) => z.union([z.number(), z.null()]).openapi({ description });

const CorrectedShutter = z
  .discriminatedUnion("kind", [
    z.object({ kind: z.literal("reached"), shutter: ShutterSetting, end: Instant }).openapi("ReachedShutter"),
    z
      .object({
        kind: z.literal("not-reached"),
        knownUntil: Instant,
        gatheredStops: z
          .number()
          .openapi({ description: "What an open shutter has by then, against what is wanted [stops]" }),
      })
      .openapi("ShutterNotReached"),
  ])
  .openapi("CorrectedShutter");

const LatestStart = z
  .discriminatedUnion("kind", [
    z.object({ kind: z.literal("at"), instant: Instant }).openapi("LatestStartAt"),
    z.object({ kind: z.enum(["beyond-known", "too-late", "not-known"]) }).openapi("NoLatestStart"),
  ])
  .openapi("LatestStart");

const ComesAbout = z
  .discriminatedUnion("kind", [
    z
      .object({
        kind: z.literal("crosses"),
        moments: z.array(ShutterMoment),
      })
      .openapi("ShutterMoments"),
    z.object({ kind: z.enum(["always-shorter", "always-longer", "not-known"]) }).openapi("NoShutterMoments"),
  ])
  .openapi("ComesAbout");

export const LongExposure = z
  .object({
    instant: Instant.openapi({ description: "When the shutter opens" }),
    ev100: z.number().openapi({ description: "The light then [EV100]" }),
    attenuationStops: z.number(),
    naive: ShutterSetting.openapi({ description: "If the light stood still" }),
    steadyOnFilm: ShutterSetting.optional(),
    corrected: CorrectedShutter,
    errorStops: nullableStops(
      "How wrong the naive time is, negative for under-exposed; null where the light is not known so long",
    ),
    stopsPerMinute: z.number().openapi({ description: "How fast the light goes; negative while it fades" }),
    wanted: z
      .object({
        shutter: ShutterSetting,
        errorStops: nullableStops("What the wanted time gives from this start, against what is wanted"),
        latestStart: LatestStart,
        comesAbout: ComesAbout,
      })
      .openapi("WantedLongExposure")
      .optional(),
    light: z
      .object({
        source: z.enum(["readings", "sun-and-moon"]),
        knownUntil: Instant,
        shiftStops: z
          .number()
          .openapi({ description: "How far the meter reading moved the course of the light [stops]" }),
      })
      .openapi("LongExposureLight"),
    assumptions: z.array(Assumption),
    cautions: z.array(Caution),
  })
  .openapi("LongExposure");
