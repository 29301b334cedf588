import { z } from "@hono/zod-openapi";
import { CloudCover } from "./cloud";
import { bodyNumber } from "./numbers";

/** The state of the sky and the air, as a forecast gives it. */
export const SkyInput = z
  .strictObject({
    cloudCover: CloudCover.optional(),
    turbidity: bodyNumber({ min: 1, max: 15, description: "Luminous turbidity factor; default 2.12" }).optional(),
    temperatureC: bodyNumber({ min: -45, max: 60, description: "Of the air [°C]; default 10", example: 8 }).optional(),
    relativeHumidity: bodyNumber({
      min: 1,
      max: 100,
      description: "[%]; with temperatureC it tells of fog on the lens",
      example: 85,
    }).optional(),
  })
  .openapi("SkyInput", { description: "Default: a clear sky of usual clearness" });
