import * as operations from "@fieldstop/operations";
import { createRoute } from "@hono/zod-openapi";
import { json } from "../../middleware/answer";
import { bodyProblems, jsonAnswer, jsonBody, operation } from "../operation";
import { AngleOfView, AngleOfViewInput } from "./angle-of-view.schema";
import { ANGLE_OF_VIEW } from "./optics.examples";

const route = createRoute({
  method: "post",
  path: "/v1/optics/angle-of-view",
  operationId: "getAngleOfView",
  tags: ["optics"],
  summary: "How much a lens takes in on a sensor",
  description:
    "Horizontal, vertical and diagonal angle of view of a straight-drawing lens or a fisheye, what a near focus takes from it, the full-frame lens that takes in as much, and what a crop to another shape costs.",
  request: { body: jsonBody(AngleOfViewInput, ANGLE_OF_VIEW) },
  responses: { 200: jsonAnswer(AngleOfView, "The angles of view"), ...bodyProblems },
});

export const getAngleOfView = operation(route, ({ body }) => json(operations.getAngleOfView(body)));
