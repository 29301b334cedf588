import * as operations from "@fieldstop/operations";
import { createRoute } from "@hono/zod-openapi";
import { json } from "../../middleware/answer";
import { POLARIZER } from "../exposure/exposure.examples";
import { bodyProblems, jsonAnswer, jsonBody, lookups, operation } from "../operation";
import { SKYLINE_POINTS } from "../shared/points";
import { PolarizerAssessment, PolarizerInput } from "./polarizer.schema";

const route = createRoute({
  method: "post",
  path: "/v1/filters/polarizer",
  operationId: "assessPolarizer",
  tags: ["filters"],
  summary: "What a polarizer does to this frame",
  description:
    "How far it darkens the sky across the frame and how evenly, what glare it leaves on water or wet sand, at which rotation, what one costs the other, and how much light it takes. Under the sun of a place and an instant, or under one that is given.",
  request: { body: jsonBody(PolarizerInput, POLARIZER) },
  responses: { 200: jsonAnswer(PolarizerAssessment, "What it does"), ...bodyProblems },
});

export const assessPolarizer = operation(
  route,
  async (request) => json(await operations.assessPolarizer(lookups(request), request.body)),
  { points: SKYLINE_POINTS },
);
