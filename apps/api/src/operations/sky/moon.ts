import * as operations from "@fieldstop/operations";
import { createRoute, z } from "@hono/zod-openapi";
import { json } from "../../middleware/answer";
import { immutableBy } from "../../middleware/cache-control";
import { jsonAnswer, operation, queryProblems } from "../operation";
import { AirQuery } from "../shared/air";
import { InstantInput } from "../shared/instant";
import { PlaceQuery } from "../shared/place";
import { MoonPosition } from "./moon.schema";

const route = createRoute({
  method: "get",
  path: "/v1/moon",
  operationId: "getMoonPosition",
  tags: ["sky"],
  summary: "Where the moon stands",
  description:
    "Altitude and azimuth of the moon's centre at a place, now or at an instant, with its distance, the size of its disc, how much of it is lit, and its phase.",
  request: { query: z.strictObject({ ...PlaceQuery, ...AirQuery, instant: InstantInput.optional() }) },
  responses: { 200: jsonAnswer(MoonPosition, "The moon's position and phase"), ...queryProblems },
});

export const getMoonPosition = operation(
  route,
  ({ services, query }) => json(operations.getMoonPosition(services, query)),
  { lifetime: immutableBy("instant") },
);
