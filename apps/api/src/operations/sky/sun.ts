import * as operations from "@fieldstop/operations";
import { createRoute, z } from "@hono/zod-openapi";
import { json } from "../../middleware/answer";
import { immutableBy } from "../../middleware/cache-control";
import { jsonAnswer, operation, queryProblems } from "../operation";
import { AirQuery } from "../shared/air";
import { InstantInput } from "../shared/instant";
import { PlaceQuery } from "../shared/place";
import { SunPosition } from "./sun.schema";

const route = createRoute({
  method: "get",
  path: "/v1/sun",
  operationId: "getSunPosition",
  tags: ["sky"],
  summary: "Where the sun stands",
  description: "Altitude and azimuth of the sun's centre at a place, now or at an instant.",
  request: { query: z.strictObject({ ...PlaceQuery, ...AirQuery, instant: InstantInput.optional() }) },
  responses: { 200: jsonAnswer(SunPosition, "The sun's position"), ...queryProblems },
});

export const getSunPosition = operation(
  route,
  ({ services, query }) => json(operations.getSunPosition(services, query)),
  {
    lifetime: immutableBy("instant"),
  },
);
