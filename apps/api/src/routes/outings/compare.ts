import { DomainError, rankOutings, type ScoredOuting, scoreOuting } from "@fieldstop/core";
import { createRoute } from "@hono/zod-openapi";
import { OUTING_COMPARISON } from "../../examples/light";
import { bodyProblems, jsonAnswer, jsonBody, operation } from "../../http/operation";
import { rounded } from "../../http/rounding";
import { outingAt } from "../../places/outing-at";
import { OutingComparison, OutingComparisonInput } from "../../schemas/outing-comparison";

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

export const compareOutings = operation(route, async (c) => {
  const { places, dates, weights, ...shared } = c.req.valid("json");
  const scored: ScoredOuting[] = [];
  for (const [i, { camera, ...spot }] of places.entries()) {
    for (const [j, date] of dates.entries()) {
      try {
        const plan = await outingAt(c.var.services, { ...shared, ...spot, date, camera: camera ?? shared.camera });
        scored.push(scoreOuting(plan, weights));
      } catch (error) {
        throw named(error, `places.${i}`, `dates.${j}`);
      }
      // a turn for others between two plans
      await new Promise((resolve) => setTimeout(resolve, 0));
    }
  }
  const { assumptions, cautions } = (scored[0] as ScoredOuting).plan;
  return c.json(rounded({ outings: rankOutings(scored), assumptions, cautions }), 200);
});

/** What a plan refuses, named by its place in the comparison. */
function named(error: unknown, placeMember: string, dateMember: string): unknown {
  if (!(error instanceof DomainError)) return error;
  if (error.param === "date") return error.at(dateMember);
  return /^(place|subject|horizon)\b/.test(error.param) ? error.at(`${placeMember}.${error.param}`) : error;
}
