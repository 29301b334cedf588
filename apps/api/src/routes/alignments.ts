import * as answers from "@fieldstop/answers";
import { createRoute } from "@hono/zod-openapi";
import { ALIGNMENTS } from "../examples/light";
import { bodyProblems, jsonAnswer, jsonBody, operation } from "../http/operation";
import { AlignmentInput, Alignments } from "../schemas/alignments";

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
  async (c) => {
    const { services } = c.var;
    const input = await answers.alignmentsInput(services, c.req.valid("json"));
    return c.json((await services.longWork?.findAlignments(input, services.signal)) ?? answers.alignments(input), 200);
  },
  { points: 10 },
);
