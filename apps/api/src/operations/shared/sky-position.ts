import { z } from "@hono/zod-openapi";

export const SkyPosition = z
  .object({
    azimuthDeg: z.number().openapi({ description: "Degrees clockwise from true north, 0 to 360" }),
    altitudeDeg: z.number().openapi({
      description:
        "Apparent altitude of the centre [deg]: refraction is in it. Below a true altitude of -1 the refraction of -1, 0.65 in usual air, is held, so that altitudes go on evenly; how far below the horizon a body stands is said by trueAltitudeDeg",
    }),
    trueAltitudeDeg: z.number().openapi({ description: "Airless altitude of the centre [deg]" }),
  })
  .openapi("SkyPosition");
