import type { LightWindows as CoreLightWindows } from "@fieldstop/core";
import { z } from "@hono/zod-openapi";
import { AirQuery, AtmosphereInput } from "../shared/air";
import { HorizonInput, HorizonReport } from "../shared/horizon";
import { DateInput, Instant } from "../shared/instant";
import { LanguageInput } from "../shared/language";
import { Assumption, Caution } from "../shared/notes";
import { PlaceInput, PlaceQuery } from "../shared/place";
import type { Assert, SameShape } from "../shared/same-shape";
import { SubjectInput } from "../shared/subject";

const altitudeDeg = z.number().min(-90).max(90);

const altitudeBounds = (usual: string, example: [number, number]) =>
  z
    .tuple([altitudeDeg, altitudeDeg])
    .refine(([low, high]) => low < high, { message: "the lower bound comes first" })
    .openapi({
      type: "array",
      items: { type: "number", minimum: -90, maximum: 90 },
      minItems: 2,
      maxItems: 2,
      description: `True altitudes of the sun's centre [deg], the lower first; default ${usual}`,
      example,
    });

const TwilightBounds = z
  .strictObject({
    goldenHourDeg: altitudeBounds("-4 to 6", [-4, 6]).optional(),
    blueHourDeg: altitudeBounds("-6 to -4", [-6, -4]).optional(),
  })
  .openapi("TwilightBounds", { description: "Between which altitudes the golden and the blue hour are counted" });

export const LightWindowsInput = z
  .strictObject({
    place: PlaceInput,
    date: DateInput.optional(),
    horizon: HorizonInput.optional(),
    subject: SubjectInput.optional(),
    atmosphere: AtmosphereInput.optional(),
    bounds: TwilightBounds.optional(),
  })
  .openapi("LightWindowsInput");

export const LightWindowsQuery = z.strictObject({
  ...PlaceQuery,
  ...AirQuery,
  name: z.string().max(200).optional(),
  date: DateInput.optional(),
  horizon: z.enum(["terrain", "flat"]).optional().openapi({ description: "Default: terrain where the service has it" }),
  lang: LanguageInput.optional(),
});

const SkyEvent = z
  .object({
    name: z.enum([
      "astronomical-dawn",
      "nautical-dawn",
      "civil-dawn",
      "sunrise",
      "solar-noon",
      "sunset",
      "civil-dusk",
      "nautical-dusk",
      "astronomical-dusk",
      "moonrise",
      "moonset",
    ]),
    instant: Instant,
    azimuthDeg: z.number(),
  })
  .openapi("SkyEvent");

const LightWindow = z
  .object({
    kind: z
      .enum([
        "golden-hour",
        "blue-hour",
        "civil-twilight",
        "nautical-twilight",
        "astronomical-twilight",
        "cloud-lit-low",
        "cloud-lit-middle",
        "cloud-lit-high",
      ])
      .openapi({
        description: "cloud-lit: until when the sun still strikes cloud overhead at 1, 4 and 9 km; guidance",
      }),
    part: z.enum(["morning", "evening"]),
    start: Instant,
    end: Instant,
    minutes: z.number(),
    sinceDayBefore: z
      .literal(true)
      .optional()
      .openapi({ description: "Present where the start is but the day's first midnight: it began on the day before" }),
    intoNextDay: z
      .literal(true)
      .optional()
      .openapi({ description: "Present where the end is but the day's last midnight: it goes on into the next day" }),
  })
  .openapi("LightWindow");

const Cause = z.enum(["horizon", "terrain", "facing", "day-boundary"]).openapi("DirectLightCause", {
  description: "What makes the edge: the almanac's horizon, higher terrain, the surface turning away, the day's end",
});

const FullDisc = z.object({ start: Instant, end: Instant }).openapi("FullDisc");

const DirectLightInterval = z
  .object({
    start: Instant,
    end: Instant,
    startCause: Cause,
    endCause: Cause,
    startAzimuthDeg: z.number(),
    endAzimuthDeg: z.number(),
    fullDisc: z
      .union([FullDisc, z.null()])
      .openapi({ description: "While the whole disc is seen; null where it never is" }),
  })
  .openapi("DirectLightInterval");

export const DirectLight = z
  .object({
    intervals: z.array(DirectLightInterval),
    firstInstant: z.union([Instant, z.null()]),
    lastInstant: z.union([Instant, z.null()]),
    minutesLostToTerrain: z.number(),
  })
  .openapi("DirectLight");

export const ReportedPlace = z
  .object({
    name: z.string().optional(),
    latitude: z.number(),
    longitude: z.number(),
    elevationM: z.number(),
    eyeHeightM: z.number(),
  })
  .openapi("Place");

export const LightWindows = z
  .object({
    date: z.string(),
    timeZone: z.string(),
    place: ReportedPlace,
    events: z.array(SkyEvent),
    polar: z.enum(["none", "day", "night"]),
    windows: z.array(LightWindow),
    directLight: DirectLight.openapi({ description: "At the camera" }),
    subjectLight: DirectLight.optional(),
    horizon: HorizonReport,
    assumptions: z.array(Assumption),
    cautions: z.array(Caution),
  })
  .openapi("LightWindows");

export type LightWindowsCheck = Assert<SameShape<z.output<typeof LightWindows>, CoreLightWindows>>;
