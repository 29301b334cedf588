import { z } from "@hono/zod-openapi";
import { DateInput, Instant, InstantInput } from "../shared/instant";
import { Assumption, Caution } from "../shared/notes";
import { queryNumber } from "../shared/numbers";
import { PlaceQuery } from "../shared/place";

const { latitude, longitude, timeZone } = PlaceQuery;

export const TideStationId = z
  .string()
  .min(1)
  .max(120)
  .openapi({ description: "As the list of stations names it", example: "noaa/8722125" });

export const TideStationsQuery = z.strictObject({
  latitude,
  longitude,
  radiusKm: queryNumber({
    min: 1,
    max: 500,
    description: "How far to look [km]; default 100",
    example: 100,
  }).optional(),
  limit: queryNumber({ min: 1, max: 50, description: "Most stations to list; default 10", example: 10 })
    .refine(Number.isInteger, { message: "not a whole number", params: { allowed: "a whole number" } })
    .openapi({ type: "integer" })
    .optional(),
});

const licence = z
  .object({ type: z.string(), url: z.string() })
  .openapi("DataLicence", { description: "Of the station's data" });

export const TideStation = z
  .object({
    id: z.string(),
    name: z.string(),
    distanceKm: z.number().optional().openapi({ description: "From the place that was asked for [km]" }),
    latitude: z.number(),
    longitude: z.number(),
    timeZone: z.string(),
    kind: z.enum(["reference", "subordinate"]).openapi({
      description: "Predicted from constituents of its own, or by its differences from a station that has them",
    }),
    chartDatum: z.string().openapi({ description: "What heights are counted from by default", example: "MLLW" }),
    datums: z.array(z.string()).openapi({ description: "What heights can be counted from" }),
    attribution: z.string().openapi({ description: "To be shown with whatever is taken from the station" }),
    licence,
  })
  .openapi("TideStation");

export const TideStations = z
  .object({
    stations: z.array(TideStation),
    nearestKm: z.union([z.number(), z.null()]).openapi({
      description: "How far the nearest station is, though it be outside the radius [km]",
    }),
  })
  .openapi("TideStations");

export const TidesQuery = z.strictObject({
  station: TideStationId.optional().openapi({ description: "Id of a station; or a latitude and a longitude" }),
  latitude: latitude.optional(),
  longitude: longitude.optional(),
  timeZone: timeZone.openapi({ description: "IANA time zone; default: the station's" }),
  date: DateInput.optional(),
  from: InstantInput.optional().openapi({ description: "First instant; with to, in place of date" }),
  to: InstantInput.optional().openapi({ description: "Last instant, at most 31 days after from" }),
  datum: z.string().min(1).max(20).optional().openapi({
    description: "What heights are counted from; one of the station's datums. Default: its chart datum",
    example: "MLLW",
  }),
  levelM: queryNumber({
    min: -30,
    max: 30,
    description: "A level above the datum, for the windows in which the water is under or over it [m]",
    example: 0.5,
  }).optional(),
});

export const TideExtreme = z
  .object({ kind: z.enum(["high", "low"]), instant: Instant, heightM: z.number() })
  .openapi("TideExtreme");

const LightInWindow = z
  .object({
    kind: z.enum(["golden-hour", "blue-hour"]),
    part: z.enum(["morning", "evening"]),
    start: Instant,
    end: Instant,
    minutes: z.number(),
  })
  .openapi("TideLight");

const TideWindow = z
  .object({
    water: z.enum(["under", "over"]).openapi({ description: "Where the water stands against the level" }),
    start: Instant,
    end: Instant,
    minutes: z.number(),
    light: z
      .array(LightInWindow)
      .openapi({ description: "The golden and blue hours, or parts of them, in the window" }),
  })
  .openapi("TideWindow");

export const Tides = z
  .object({
    station: TideStation,
    date: z.string().optional().openapi({ description: "The local day, where none but a day was asked for" }),
    from: Instant,
    to: Instant,
    timeZone: z.string(),
    datum: z.string(),
    extremes: z.array(TideExtreme),
    heights: z
      .array(z.object({ instant: Instant, heightM: z.number() }).openapi("TideHeight"))
      .openapi({ description: "Each 10 minutes of UTC" }),
    windows: z.array(TideWindow).optional().openapi({
      description: "Where a level was given: under and over it in turn; the first and last are cut by the span",
    }),
    assumptions: z.array(Assumption),
    cautions: z.array(Caution),
    attribution: z.string(),
  })
  .openapi("Tides");
