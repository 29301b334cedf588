import * as operations from "@fieldstop/operations";
import { createRoute } from "@hono/zod-openapi";
import { json } from "../../middleware/answer";
import { GRADUATED } from "../exposure/exposure.examples";
import { bodyProblems, jsonAnswer, jsonBody, lookups, operation } from "../operation";
import { SKYLINE_POINTS } from "../shared/points";
import { GraduatedAssessment, GraduatedAssessmentInput } from "./graduated.schema";

const route = createRoute({
  method: "post",
  path: "/v1/filters/graduated",
  operationId: "assessGraduated",
  tags: ["filters"],
  summary: "Whether a graduated filter fits this frame",
  description:
    "From the skyline in the frame, what stands across it and the contrast: which strength and transition, where it goes and how far it is turned, what of the land it darkens; or that a bracket does better. Always with the reasons.",
  request: { body: jsonBody(GraduatedAssessmentInput, GRADUATED) },
  responses: { 200: jsonAnswer(GraduatedAssessment, "Whether it fits"), ...bodyProblems },
});

export const assessGraduated = operation(
  route,
  async (request) => json(await operations.assessGraduated(lookups(request), request.body)),
  { points: SKYLINE_POINTS },
);
