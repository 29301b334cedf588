import * as operations from "@fieldstop/operations";
import { createRoute } from "@hono/zod-openapi";
import { json } from "../../middleware/answer";
import { FILTER_SELECTION } from "../exposure/exposure.examples";
import { bodyProblems, jsonAnswer, jsonBody, lookups, operation } from "../operation";
import { SKYLINE_POINTS } from "../shared/points";
import { FilterSelection, FilterSelectionInput } from "./filter-selection.schema";

const route = createRoute({
  method: "post",
  path: "/v1/filters/select",
  operationId: "selectFilters",
  tags: ["filters"],
  summary: "Which filters of a kit bring about a wanted shutter time, and when",
  description:
    "Every combination of a kit of up to 12 filters, ranked by how far it falls from the wanted time and then by how few filters it takes. With the light over time, by sun and moon at a place or by meter readings, also when in the course of the evening each combination does.",
  request: { body: jsonBody(FilterSelectionInput, FILTER_SELECTION) },
  responses: { 200: jsonAnswer(FilterSelection, "The combinations, best first"), ...bodyProblems },
});

export const selectFilters = operation(
  route,
  async (request) => json(await operations.selectFilters(lookups(request), request.body)),
  { points: SKYLINE_POINTS },
);
