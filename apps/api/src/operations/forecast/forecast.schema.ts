import { type ForecastHeadline, type ForecastLine, SENSOR_FORMAT_NAMES, type SensorFormatName } from "@fieldstop/core";
import { z } from "@hono/zod-openapi";
import { Problem } from "../../problems/problem.schema";
import { OutingInput, OutingPlan } from "../outings/outing.schema";
import { OutingCamera } from "../shared/camera";
import { CloudCover } from "../shared/cloud";
import { DateInput, Instant } from "../shared/instant";
import { LanguageInput } from "../shared/language";
import { queryNumber } from "../shared/numbers";
import { PlaceQuery } from "../shared/place";
import type { Assert, SameShape } from "../shared/same-shape";

export const MAX_FORECASTS = 1000;
/** A thousand places with a camera and a bag each. */
export const MAX_FORECASTS_BYTES = 1024 * 1024;

const Session = z
  .enum(["evening", "morning"])
  .openapi("ForecastSession", { description: "Default: evening", example: "evening" });

const percent = (description: string) => queryNumber({ min: 0, max: 100, description, example: 20 }).optional();

export const ForecastQuery = z.strictObject({
  ...PlaceQuery,
  name: z.string().max(200).optional(),
  date: DateInput.optional(),
  session: Session.optional(),
  horizon: z.enum(["terrain", "flat"]).optional().openapi({ description: "Default: terrain where the service has it" }),
  sensor: z
    .enum(SENSOR_FORMAT_NAMES as [SensorFormatName, ...SensorFormatName[]])
    .optional()
    .openapi({ description: "Format of the sensor; default full-frame", example: "full-frame" }),
  focalLengthMm: queryNumber({ min: 1, max: 10_000, description: "Focal length [mm]", example: 24 }).optional(),
  aperture: queryNumber({ min: 0.1, max: 1024, description: "f-number; default 11", example: 11 }).optional(),
  iso: queryNumber({ min: 1, max: 1e7, description: "ISO; default 100", example: 100 }).optional(),
  azimuthDeg: queryNumber({
    min: 0,
    max: 360,
    description: "Where the camera points, degrees clockwise from true north; default: toward the sun",
    example: 290,
  }).optional(),
  pitchDeg: queryNumber({ min: -90, max: 90, description: "Camera axis above the level [deg]; default 0" }).optional(),
  facingAzimuthDeg: queryNumber({
    min: 0,
    max: 360,
    description: "The way that what is photographed looks, degrees clockwise from true north",
  }).optional(),
  slopeDeg: queryNumber({
    min: 0,
    max: 180,
    description: "Its surface against the level [deg], with a facing alone; default 90 where a facing is given",
  }).optional(),
  cloudLow: percent("Low cloud [%]; any level given takes the place of the service's weather"),
  cloudMiddle: percent("Middle cloud [%]"),
  cloudHigh: percent("High cloud [%]"),
  temperatureC: queryNumber({ min: -45, max: 60, description: "Of the air [°C]", example: 8 }).optional(),
  relativeHumidity: queryNumber({ min: 1, max: 100, description: "[%]", example: 85 }).optional(),
  tideStation: z.string().min(1).max(120).optional().openapi({
    description: "Id of a tide station within 100 km of the place, or nearest; default: no tide",
  }),
  lang: LanguageInput.optional(),
});

export const ForecastRequest = z
  .strictObject({
    id: z.string().min(1).max(200).optional().openapi({ description: "Comes back with the line", example: "strand" }),
    place: OutingInput.shape.place,
    date: DateInput.optional(),
    session: Session.optional(),
    camera: OutingCamera.optional(),
    subject: OutingInput.shape.subject,
    filters: OutingInput.shape.filters,
    scene: OutingInput.shape.scene,
    foreground: OutingInput.shape.foreground,
    walkInMinutes: OutingInput.shape.walkInMinutes,
    sky: OutingInput.shape.sky,
    horizon: OutingInput.shape.horizon,
    tideStation: OutingInput.shape.tideStation,
  })
  .openapi("ForecastRequest");

/** Each place is judged by itself, so that a bad one costs its own line alone; the contract describes what it should be. */
export const ForecastsInput = z
  .strictObject({
    places: z
      .array(z.unknown())
      .min(1)
      .max(MAX_FORECASTS)
      .openapi({
        type: "array",
        items: { $ref: "#/components/schemas/ForecastRequest" },
        minItems: 1,
        maxItems: MAX_FORECASTS,
      }),
    lang: LanguageInput.optional(),
  })
  .openapi("ForecastsInput");

const Weather = z
  .object({
    provider: z.string(),
    attribution: z.string().openapi({ description: "To be shown with the forecast" }),
    licenceUrl: z.string().optional(),
    issuedAt: z
      .union([Instant, z.null()])
      .openapi({ description: "When the provider made it; null where it does not say" }),
    validFor: Instant.openapi({ description: "The instant that it is read for" }),
    cloudCover: CloudCover.optional(),
    temperatureC: z.number().optional(),
    relativeHumidity: z.number().optional(),
    dewPointC: z.number().optional(),
    stale: z.boolean().openapi({ description: "Whether the provider is away and a kept answer stands in" }),
  })
  .openapi("Weather");

const HEADLINE_CODES = ["light-goes", "light-comes", "sun-stays-up", "no-direct-light", "sun-stays-down"] as const;

const LINE_CODES = [
  "verdict",
  "golden-light",
  "sky-outlook",
  "sky-not-known",
  "contrast",
  "moon",
  "tide",
  "lens-fog",
  "be-there",
] as const;

export const Forecast = z
  .object({
    id: z
      .string()
      .openapi({ description: "Stable for the place, the day and the session", example: "3f0c9a4e51b27d86" }),
    session: Session,
    headline: z.string().openapi({
      description: "One sentence: when direct light goes or comes, and why",
      example:
        "Direct light goes at 17:58 behind higher ground in the west, 43 minutes before the almanac's sunset at 18:41.",
    }),
    headlineCode: z.enum(HEADLINE_CODES),
    summary: z
      .array(z.object({ code: z.enum(LINE_CODES), text: z.string() }).openapi("ForecastLine"))
      .openapi({ description: "Five to eight short lines, in the order in which they are read" }),
    ...OutingPlan.omit({ skyline: true, cloudOutlook: true }).shape,
    skyline: OutingPlan.shape.skyline.optional().openapi({ description: "Where the camera's direction was given" }),
    skyOutlook: OutingPlan.shape.cloudOutlook,
    weather: Weather.optional().openapi({ description: "Where the service has a weather provider" }),
  })
  .openapi("Forecast");

/** One line of the stream. */
export const ForecastsLine = z
  .union([
    z
      .object({
        index: z.int().openapi({ description: "Of the place in the request" }),
        id: z.string().optional(),
        forecast: Forecast,
      })
      .openapi("ForecastReady"),
    z.object({ index: z.int(), id: z.string().optional(), problem: Problem }).openapi("ForecastRefused"),
    z
      .object({ done: z.literal(true), served: z.int(), failed: z.int() })
      .openapi("ForecastsDone", { description: "The last line: without it the stream was cut short" }),
  ])
  .openapi("ForecastsLine");

export type HeadlineCodeCheck = Assert<SameShape<(typeof HEADLINE_CODES)[number], ForecastHeadline["code"]>>;
export type LineCodeCheck = Assert<SameShape<(typeof LINE_CODES)[number], ForecastLine["code"]>>;
