import { z } from "@hono/zod-openapi";
import { Instant } from "./instant";
import { Assumption, Caution } from "./notes";
import { SkyPosition } from "./sky-position";

export const SunPosition = z
  .object({
    instant: Instant,
    ...SkyPosition.shape,
    timeZone: z.string(),
    assumptions: z.array(Assumption),
    cautions: z.array(Caution),
  })
  .openapi("SunPosition");
