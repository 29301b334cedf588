import * as operations from "@fieldstop/operations";
import { createRoute } from "@hono/zod-openapi";
import { json } from "../../middleware/answer";
import { BRACKET } from "../exposure/exposure.examples";
import { bodyProblems, jsonAnswer, jsonBody, operation } from "../operation";
import { BracketInput, BracketPlan } from "./bracket.schema";

const route = createRoute({
  method: "post",
  path: "/v1/brackets/plan",
  operationId: "planBracket",
  tags: ["brackets"],
  summary: "The fewest frames that hold a scene",
  description:
    "From the darkest to the brightest part of the scene, by shutter time alone: the fewest frames at the counts and steps that cameras offer, each with its bias, its time and what it holds, how long the set takes, why so many, and what may go wrong. A scene that no allowed set can hold is a 422 that says what would.",
  request: { body: jsonBody(BracketInput, BRACKET) },
  responses: { 200: jsonAnswer(BracketPlan, "The set, from the darkest frame to the brightest"), ...bodyProblems },
});

export const planBracket = operation(route, ({ body }) => json(operations.planBracket(body)));
