import type { Assumption as CoreAssumption, DewPoint as CoreDewPoint } from "@fieldstop/core";
import { z } from "@hono/zod-openapi";
import { Assumption } from "../shared/notes";
import { queryNumber } from "../shared/numbers";
import type { Assert, SameShape } from "../shared/same-shape";

const celsius = { min: -45, max: 60 };

export const DewPointQuery = z.strictObject({
  temperatureC: queryNumber({ ...celsius, description: "Of the air [°C]", example: 8 }),
  relativeHumidity: queryNumber({ min: 1, max: 100, description: "[%]", example: 85 }),
  lensTemperatureC: queryNumber({
    ...celsius,
    description: "Of the glass [°C]; default that of the air",
    example: 5,
  }).optional(),
});

export const DewPoint = z
  .object({
    dewPointC: z.number().openapi({ description: "Temperature at which dew forms [°C]" }),
    spreadC: z.number().openapi({ description: "How far the glass is above the dew point [°C]" }),
    fogRisk: z.enum(["low", "possible", "likely"]),
  })
  .openapi("DewPoint");

export const DewPointAnswer = z
  .object({
    ...DewPoint.shape,
    lensTemperatureC: z.number().openapi({ description: "What was reckoned with [°C]" }),
    assumptions: z.array(Assumption),
  })
  .openapi("DewPointAnswer");

interface Answer extends CoreDewPoint {
  readonly lensTemperatureC: number;
  readonly assumptions: readonly CoreAssumption[];
}

export type DewPointCheck = Assert<SameShape<z.output<typeof DewPointAnswer>, Answer>>;
