import { outingInput } from "@fieldstop/operations";
import { createRoute } from "@hono/zod-openapi";
import { jsonText } from "../../middleware/answer";
import { runJob } from "../../services";
import { OUTING } from "../light/light.examples";
import { bodyProblems, jsonAnswer, jsonBody, lookups, notFoundProblem, operation } from "../operation";
import { planPoints } from "../shared/points";
import { OutingInput, OutingPlan } from "./outing.schema";

const route = createRoute({
  method: "post",
  path: "/v1/outings/plan",
  operationId: "planOuting",
  tags: ["outings"],
  summary: "One evening, morning or night, planned",
  description:
    "Whether to go, with the reasons; when to arrive and until when to stay; the moments that count, each with its tones and contrast, one frame, a graduated filter or a bracket with the margin and the reasons, settings, and the long exposure that the bag allows; what to pack and what to beware of. With session from and to, date is theirs unless it is given.",
  request: { body: jsonBody(OutingInput, OUTING) },
  responses: { 200: jsonAnswer(OutingPlan, "The plan"), ...notFoundProblem, ...bodyProblems },
});

export const planOuting = operation(
  route,
  async (request) => {
    const services = lookups(request);
    return jsonText(await runJob(services, "planJson", await outingInput(services, request.body)));
  },
  { points: ({ body }) => planPoints(body) },
);
