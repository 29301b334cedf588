import { alignmentsInput } from "@fieldstop/operations";
import { createRoute } from "@hono/zod-openapi";
import { jsonText } from "../../middleware/answer";
import { runJob } from "../../services";
import { bodyProblems, jsonAnswer, jsonBody, lookups, operation } from "../operation";
import { alignmentPoints } from "../shared/points";
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
  async (request) => {
    const services = lookups(request);
    return jsonText(await runJob(services, "alignmentsJson", await alignmentsInput(services, request.body)));
  },
  { points: ({ body }) => alignmentPoints(body) },
);
