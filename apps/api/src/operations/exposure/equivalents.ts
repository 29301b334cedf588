import * as operations from "@fieldstop/operations";
import { createRoute } from "@hono/zod-openapi";
import { json } from "../../middleware/answer";
import { bodyProblems, jsonAnswer, jsonBody, operation } from "../operation";
import { EQUIVALENTS } from "./exposure.examples";
import { Equivalents, EquivalentsInput } from "./exposure.schema";

const route = createRoute({
  method: "post",
  path: "/v1/exposures/equivalents",
  operationId: "listEquivalents",
  tags: ["exposure"],
  summary: "Every aperture with its shutter time, and what binds each",
  description:
    "The ladder of apertures and shutter times that give one exposure, each with its margin to what binds it: hand-held, moving subject, wanted blur, diffraction, depth of field, the camera's shutter. Where nothing fits, the lowest ISO that would.",
  request: { body: jsonBody(EquivalentsInput, EQUIVALENTS) },
  responses: { 200: jsonAnswer(Equivalents, "The ladder, from the widest aperture"), ...bodyProblems },
});

export const listEquivalents = operation(route, ({ body }) => json(operations.listEquivalents(body)));
