import * as operations from "@fieldstop/operations";
import { createRoute } from "@hono/zod-openapi";
import { json } from "../../middleware/answer";
import { bodyProblems, jsonAnswer, jsonBody, operation } from "../operation";
import { SKYLINE_POINTS } from "../shared/points";
import { LONG_EXPOSURE } from "./exposure.examples";
import { LongExposure, LongExposureInput } from "./long-exposure.schema";

const route = createRoute({
  method: "post",
  path: "/v1/exposures/long",
  operationId: "solveLongExposure",
  tags: ["exposure"],
  summary: "How long to expose while the light is changing",
  description:
    "The time that gathers the light that is wanted while it fades or grows, beside the naive time of a meter: how wrong that would be, how fast the light goes, and for a wanted time the latest start. The light goes by meter readings, or by sun and moon at a place, moved to agree with a reading when the shutter opens.",
  request: { body: jsonBody(LongExposureInput, LONG_EXPOSURE) },
  responses: { 200: jsonAnswer(LongExposure, "The long exposure"), ...bodyProblems },
});

export const solveLongExposure = operation(
  route,
  ({ services, body }) => json(operations.solveLongExposure(services, body)),
  { points: SKYLINE_POINTS },
);
