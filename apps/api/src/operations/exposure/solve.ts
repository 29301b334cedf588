import * as operations from "@fieldstop/operations";
import { createRoute } from "@hono/zod-openapi";
import { json } from "../../middleware/answer";
import { bodyProblems, jsonAnswer, jsonBody, operation } from "../operation";
import { EXPOSURE } from "./exposure.examples";
import { ExposureInput, ExposureSolution } from "./exposure.schema";

const route = createRoute({
  method: "post",
  path: "/v1/exposures/solve",
  operationId: "solveExposure",
  tags: ["exposure"],
  summary: "The third of aperture, shutter time and ISO",
  description:
    "The light as ev100, luminanceCdPerM2 or illuminanceLux, and two of aperture, shutterSeconds and iso, give the third, through filters and compensation. Each comes back exact and as the nearest mark.",
  request: { body: jsonBody(ExposureInput, EXPOSURE) },
  responses: { 200: jsonAnswer(ExposureSolution, "The exposure"), ...bodyProblems },
});

export const solveExposure = operation(route, ({ body }) => json(operations.solveExposure(body)));
