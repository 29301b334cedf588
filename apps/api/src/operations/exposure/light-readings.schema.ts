import { z } from "@hono/zod-openapi";
import { Instant, InstantInput } from "../shared/instant";
import { bodyNumber } from "../shared/numbers";

const LightReading = z
  .strictObject({
    instant: InstantInput,
    ev100: bodyNumber({ min: -40, max: 40, description: "The light [EV100]", example: 8 }),
  })
  .openapi("LightReading");

/** How the light goes, by a meter. */
export const LightReadings = z.array(LightReading).min(2).max(2000);

/** When a shutter time comes about while the light goes. */
export const ShutterMoment = z
  .object({ instant: Instant, direction: z.enum(["fading", "growing"]) })
  .openapi("ShutterMoment");
