import { dewPoint } from "@fieldstop/core";
import { createRoute } from "@hono/zod-openapi";
import { jsonAnswer, operation, queryProblems } from "../http/operation";
import { rounded } from "../http/rounding";
import { DewPointAnswer, DewPointQuery } from "../schemas/dew-point";

const route = createRoute({
  method: "get",
  path: "/v1/dew-point",
  operationId: "getDewPoint",
  tags: ["sky"],
  summary: "Whether a lens will fog",
  description: "The dew point of the air, how far the glass is above it, and the risk of fog on the glass.",
  request: { query: DewPointQuery },
  responses: { 200: jsonAnswer(DewPointAnswer, "The dew point"), ...queryProblems },
});

export const getDewPoint = operation(route, (c) => {
  const { temperatureC, relativeHumidity, lensTemperatureC } = c.req.valid("query");
  const glassC = lensTemperatureC ?? temperatureC;
  const why = "taken from the air; under an open sky glass cools a few degrees below it";
  return c.json(
    rounded({
      ...dewPoint(temperatureC, relativeHumidity, glassC),
      lensTemperatureC: glassC,
      assumptions: lensTemperatureC === undefined ? [{ field: "lensTemperatureC", value: glassC, why }] : [],
    }),
    200,
  );
});
