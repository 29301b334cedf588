import * as operations from "@fieldstop/operations";
import { createRoute } from "@hono/zod-openapi";
import { json } from "../../middleware/answer";
import { bodyProblems, jsonAnswer, jsonBody, operation } from "../operation";
import { DepthOfField, DepthOfFieldInput } from "./depth-of-field.schema";
import { DEPTH_OF_FIELD } from "./optics.examples";

const route = createRoute({
  method: "post",
  path: "/v1/optics/depth-of-field",
  operationId: "getDepthOfField",
  tags: ["optics"],
  summary: "What is sharp, and where to focus",
  description:
    "Near and far limit, hyperfocal distance and diffraction at an aperture and a focus distance; a far limit at infinity is a kind of its own. Said what should be sharp, also where to focus, how far to stop down, or that it takes a focus stack.",
  request: { body: jsonBody(DepthOfFieldInput, DEPTH_OF_FIELD) },
  responses: { 200: jsonAnswer(DepthOfField, "What is sharp"), ...bodyProblems },
});

export const getDepthOfField = operation(route, ({ body }) => json(operations.getDepthOfField(body)));
