import * as answers from "@fieldstop/answers";
import { createRoute } from "@hono/zod-openapi";
import { bodyProblems, jsonAnswer, jsonBody, operation } from "../operation";
import { AlignmentInput, Alignments } from "./alignments.schema";
import { ALIGNMENTS } from "./light.examples";

const route = createRoute({
  method: "post",
  path: "/v1/alignments",
  operationId: "findAlignments",
  tags: ["light"],
  summary: "When sun or moon stands where it is wanted",
  description:
    "The days and instants, over up to 20 years, at which sun or moon comes within a tolerance of a direction, or touches the skyline at an azimuth as in a notch; filtered by the sun's altitude and the moon's phase.",
  request: { body: jsonBody(AlignmentInput, ALIGNMENTS) },
  responses: { 200: jsonAnswer(Alignments, "The alignments"), ...bodyProblems },
});

export const findAlignments = operation(
  route,
  async (c) => c.json(await answers.findAlignments(c.var.services, c.req.valid("json")), 200),
  { points: 10 },
);
