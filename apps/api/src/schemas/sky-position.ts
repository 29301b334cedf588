import { z } from "@hono/zod-openapi";

export const SkyPosition = z
  .object({
    azimuthDeg: z.number().openapi({ description: "Degrees clockwise from true north, 0 to 360" }),
    altitudeDeg: z.number().openapi({ description: "Apparent altitude of the centre [deg]: refraction is in it" }),
    trueAltitudeDeg: z.number().openapi({ description: "Airless altitude of the centre [deg]" }),
  })
  .openapi("SkyPosition");
