import * as operations from "@fieldstop/operations";
import { createRoute } from "@hono/zod-openapi";
import { json } from "../../middleware/answer";
import { bodyProblems, jsonAnswer, jsonBody, operation } from "../operation";
import { FocusStack, FocusStackInput } from "./focus-stack.schema";
import { FOCUS_STACK } from "./optics.examples";

const route = createRoute({
  method: "post",
  path: "/v1/optics/focus-stack",
  operationId: "planFocusStack",
  tags: ["optics"],
  summary: "The focus distances that hold everything from near to far",
  description:
    "The fewest frames whose depths overlap from the nearest thing to the farthest or to infinity, each with its limits, and what a single frame would take instead.",
  request: { body: jsonBody(FocusStackInput, FOCUS_STACK) },
  responses: { 200: jsonAnswer(FocusStack, "The frames, from the nearest"), ...bodyProblems },
});

export const planFocusStack = operation(route, ({ body }) => json(operations.planFocusStack(body)));
