import * as operations from "@fieldstop/operations";
import { createRoute } from "@hono/zod-openapi";
import { json } from "../../middleware/answer";
import { CAMERA_HEIGHT } from "../light/light.examples";
import { bodyProblems, jsonAnswer, jsonBody, lookups, operation } from "../operation";
import { SKYLINE_POINTS } from "../shared/points";
import { CameraHeightInput, CameraHeights } from "./camera-height.schema";

const route = createRoute({
  method: "post",
  path: "/v1/framing/camera-height",
  operationId: "solveCameraHeight",
  tags: ["framing"],
  summary: "How high the tripod should stand",
  description:
    "The camera heights at which the ridge behind clears the top of what stands in front, is framed under its underside, or is hidden; the pitch that keeps both in the frame, and what 10 cm more change.",
  request: { body: jsonBody(CameraHeightInput, CAMERA_HEIGHT) },
  responses: { 200: jsonAnswer(CameraHeights, "The camera heights"), ...bodyProblems },
});

export const solveCameraHeight = operation(
  route,
  async (request) => json(await operations.solveCameraHeight(lookups(request), request.body)),
  { points: SKYLINE_POINTS },
);
