import { z } from "@hono/zod-openapi";
import { Instant } from "../shared/instant";
import { Assumption, Caution } from "../shared/notes";
import { SkyPosition } from "../shared/sky-position";

export const SunPosition = z
  .object({
    instant: Instant,
    ...SkyPosition.shape,
    timeZone: z.string(),
    assumptions: z.array(Assumption),
    cautions: z.array(Caution),
  })
  .openapi("SunPosition");
