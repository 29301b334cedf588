import { comparisonInput } from "@fieldstop/operations";
import { createRoute } from "@hono/zod-openapi";
import { jsonText } from "../../middleware/answer";
import { runJob } from "../../services";
import { OUTING_COMPARISON } from "../light/light.examples";
import { bodyProblems, jsonAnswer, jsonBody, lookups, operation } from "../operation";
import { SKYLINE_POINTS } from "../shared/points";
import { OutingComparison, OutingComparisonInput } from "./outing-comparison.schema";

const route = createRoute({
  method: "post",
  path: "/v1/outings/compare",
  operationId: "compareOutings",
  tags: ["outings"],
  summary: "Places and days against each other",
  description:
    "Up to 10 places on up to 14 days, planned and ranked: golden light, how late the direct light lasts, contrast, and cloud where it is known. Each score is explained by its parts, and each part can be weighted.",
  request: { body: jsonBody(OutingComparisonInput, OUTING_COMPARISON) },
  responses: { 200: jsonAnswer(OutingComparison, "The ranking"), ...bodyProblems },
});

export const compareOutings = operation(
  route,
  async (request) => {
    const services = lookups(request);
    return jsonText(await runJob(services, "comparisonJson", await comparisonInput(services, request.body)));
  },
  { points: ({ body: { places, dates } }) => SKYLINE_POINTS * places.length + places.length * dates.length },
);
