import { solveExposure as solve } from "@fieldstop/core";
import { createRoute } from "@hono/zod-openapi";
import { EXPOSURE } from "../../examples/exposure";
import { throughFilters } from "../../exposures/through-filters";
import { bodyProblems, jsonAnswer, jsonBody, operation } from "../../http/operation";
import { rounded } from "../../http/rounding";
import { ExposureInput, ExposureSolution } from "../../schemas/exposure";

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

export const solveExposure = operation(route, (c) => {
  const { filters, ...exposure } = c.req.valid("json");
  const { answer, assumptions, cautions } = throughFilters(filters, (attenuationStops) =>
    solve({ ...exposure, attenuationStops }),
  );
  return c.json(rounded({ ...answer, assumptions: [...assumptions, ...answer.assumptions], cautions }), 200);
});
