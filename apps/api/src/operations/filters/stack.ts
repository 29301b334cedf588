import * as operations from "@fieldstop/operations";
import { createRoute } from "@hono/zod-openapi";
import { json } from "../../middleware/answer";
import { FILTER_STACK } from "../exposure/exposure.examples";
import { bodyProblems, jsonAnswer, jsonBody, operation } from "../operation";
import { FilterStack, FilterStackInput } from "./filter-stack.schema";

const route = createRoute({
  method: "post",
  path: "/v1/filters/stack",
  operationId: "stackFilters",
  tags: ["filters"],
  summary: "What a stack of filters takes, and the shutter time through it",
  description:
    "Filters by stops, density, factor or transmittance, in any order: what they take together in all four ways, and the shutter time through them, exact and as the nearest mark. A graduated filter leaves the ground's exposure alone; what it takes from the sky is given apart. Warns past the shutter dial, past the meter's range, and of stacks on a wide lens.",
  request: { body: jsonBody(FilterStackInput, FILTER_STACK) },
  responses: { 200: jsonAnswer(FilterStack, "The stack"), ...bodyProblems },
});

export const stackFilters = operation(route, ({ body }) => json(operations.stackFilters(body)));
