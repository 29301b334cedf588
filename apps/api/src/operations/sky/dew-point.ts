import * as operations from "@fieldstop/operations";
import { createRoute } from "@hono/zod-openapi";
import { json } from "../../middleware/answer";
import { jsonAnswer, operation, queryProblems } from "../operation";
import { DewPointAnswer, DewPointQuery } from "./dew-point.schema";

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

export const getDewPoint = operation(route, ({ query }) => json(operations.getDewPoint(query)), {
  lifetime: "immutable",
});
