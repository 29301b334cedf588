import { z } from "@hono/zod-openapi";
import { Instant } from "./instant";
import { Assumption, Caution } from "./notes";

export const SunPosition = z
  .object({
    instant: Instant,
    azimuthDeg: z.number().openapi({ description: "Degrees clockwise from true north, 0 to 360" }),
    altitudeDeg: z.number().openapi({ description: "Apparent altitude of the centre [deg]: refraction is in it" }),
    trueAltitudeDeg: z.number().openapi({ description: "Airless altitude of the centre [deg]" }),
    timeZone: z.string(),
    assumptions: z.array(Assumption),
    cautions: z.array(Caution),
  })
  .openapi("SunPosition");
