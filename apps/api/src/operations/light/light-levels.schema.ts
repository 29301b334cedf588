import type { LevelRow as CoreLevelRow } from "@fieldstop/core";
import { z } from "@hono/zod-openapi";
import { CameraInput } from "../shared/camera";
import { HorizonInput, HorizonReport } from "../shared/horizon";
import { DateInput, Instant, InstantInput } from "../shared/instant";
import { Assumption, Caution } from "../shared/notes";
import { bodyNumber } from "../shared/numbers";
import { PlaceInput } from "../shared/place";
import { notTogether, saying, together } from "../shared/rules";
import type { Assert, SameShape } from "../shared/same-shape";
import { SkyInput } from "../shared/sky";
import { SkyPosition } from "../shared/sky-position";
import { SurfaceInput } from "../shared/subject";
import { ReportedPlace } from "./light-windows.schema";

/** A span or a day. */
const spanRules = saying(together("from", "to"), notTogether("date", "from"), notTogether("date", "to"));

export const LightLevelsInput = z
  .strictObject({
    place: PlaceInput,
    from: InstantInput.optional().openapi({ description: "First instant; with to. Default: the day" }),
    to: InstantInput.optional().openapi({ description: "Last instant; with from" }),
    date: DateInput.optional(),
    stepMinutes: bodyNumber({
      min: 0.1,
      max: 1440,
      description: "Between rows [min]; default 1. A span makes at most 2000 rows, 200 with directions",
      example: 5,
    }).optional(),
    horizon: HorizonInput.optional(),
    sky: SkyInput.optional(),
    camera: CameraInput.optional().openapi({
      description: "Of which azimuthDeg, pitchDeg, sensor, focalLengthMm and orientation count here",
    }),
    subject: SurfaceInput.optional(),
    reflectance: bodyNumber({
      min: 0.01,
      max: 1,
      description: "Share of light that the ground throws back [1]; default 0.18",
      example: 0.18,
    }).optional(),
    directions: z.boolean().optional().openapi({
      description: "Whether each row has the contrast toward each 15° of the compass; default no",
    }),
  })
  .openapi("LightLevelsInput", { description: "A day, or from and to", ...spanRules });

export const LightLevelsPictureInput = LightLevelsInput.omit({ directions: true })
  .extend({
    width: bodyNumber({
      min: 320,
      max: 2400,
      description: "Width that the picture is laid out for [px]; default 1200",
      example: 400,
    }).optional(),
  })
  .strict()
  .openapi("LightLevelsPictureInput", { description: "A day, or from and to", ...spanRules });

const ev = (description: string) => z.number().openapi({ description: `${description} [EV100]` });

export const SceneEv100 = z
  .object({
    sky: ev("The sky in the frame, its mean; the whole sky where no azimuth was given"),
    brightestSky: ev(
      "Its brightest part, the glare round sun and moon left out; with lit edges of cloud where cloud is known",
    ),
    litGround: ev("Ground in the beam where the beam gets there, else as open shade"),
    openShade: ev("Ground with the beam kept off it"),
    deepShade: ev("Ground that sees an eighth of the sky that open shade sees"),
    stillWater: ev("Still water, the sky reflected"),
  })
  .openapi("SceneEv100");

const DirectionContrast = z
  .object({ azimuthDeg: z.number(), skyEv100: z.number(), contrastStops: z.number() })
  .openapi("DirectionContrast");

const LevelRow = z
  .object({
    instant: Instant,
    sun: SkyPosition,
    moon: z
      .object({ ...SkyPosition.shape, illuminatedFraction: z.number() })
      .optional()
      .openapi("MoonInTheSky"),
    directLight: z.boolean().openapi({ description: "Whether any of the sun's disc stands above the skyline" }),
    directMoonlight: z.boolean().optional().openapi({ description: "Likewise of the moon" }),
    illuminanceLux: z.number().openapi({ description: "On level ground at the place: beam and sky [lx]" }),
    directLux: z.number(),
    diffuseLux: z.number(),
    ev100: SceneEv100,
    contrastStops: z.number().openapi({
      description: "The sky in the frame over the ground that the photograph shows [stops]",
    }),
    moonDiscEv100: z.number().optional().openapi({ description: "The lit part of the moon's disc [EV100]" }),
    stopsPerMinute: z.number().openapi({ description: "How fast the light goes, below 0, or comes" }),
    uncertaintyStops: z.number().openapi({ description: "What levels and contrast may be off by [± stops]" }),
    directions: z.array(DirectionContrast).optional(),
  })
  .openapi("LightLevelRow");

export const LightLevels = z
  .object({
    place: ReportedPlace,
    timeZone: z.string(),
    from: Instant,
    to: Instant,
    stepMinutes: z.number(),
    skyViewFactor: z.number().openapi({ description: "Share of an even sky's light that the skyline leaves, 0 to 1" }),
    horizon: HorizonReport,
    rows: z.array(LevelRow),
    assumptions: z.array(Assumption),
    cautions: z.array(Caution),
  })
  .openapi("LightLevels");

export type LevelRowCheck = Assert<SameShape<z.output<typeof LevelRow>, CoreLevelRow>>;
