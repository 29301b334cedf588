import * as operations from "@fieldstop/operations";
import { createRoute } from "@hono/zod-openapi";
import { json } from "../../middleware/answer";
import { BRACKET_REVIEW } from "../exposure/exposure.examples";
import { bodyProblems, jsonAnswer, jsonBody, operation } from "../operation";
import { BracketReview, ReviewInput } from "./bracket.schema";

const route = createRoute({
  method: "post",
  path: "/v1/brackets/review",
  operationId: "reviewBracket",
  tags: ["brackets"],
  summary: "What a set that was taken holds, and what is missing",
  description:
    "From each frame's bias and histogram: what clips, what is black, the range of the scene over all frames, the fewest frames that a blend needs, those to leave out, the frames still missing, and what to change next time.",
  request: { body: jsonBody(ReviewInput, BRACKET_REVIEW) },
  responses: { 200: jsonAnswer(BracketReview, "The review, frames in the order given"), ...bodyProblems },
});

export const reviewBracket = operation(route, ({ body }) => json(operations.reviewBracket(body)));
