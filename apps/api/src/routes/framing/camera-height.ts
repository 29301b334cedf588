import { solveCameraHeight as solve } from "@fieldstop/core";
import { createRoute } from "@hono/zod-openapi";
import { heldCamera } from "../../cameras/held-camera";
import { CAMERA_HEIGHT } from "../../examples/light";
import { bodyProblems, jsonAnswer, jsonBody, operation } from "../../http/operation";
import { rounded } from "../../http/rounding";
import { skylineAt } from "../../places/skyline-at";
import { CameraHeightInput, CameraHeights } from "../../schemas/camera-height";

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

export const solveCameraHeight = operation(route, async (c) => {
  const { place, horizon, camera, things, minHeightM, maxHeightM } = c.req.valid("json");
  const { assumptions, ...lens } = heldCamera(camera);
  const skyline = await skylineAt(c.var.services, place, horizon);
  const heights = solve({
    things,
    profile: skyline.profile,
    profileEyeHeightM: skyline.eyeHeightM,
    azimuthDeg: camera?.azimuthDeg,
    lens,
    minHeightM,
    maxHeightM,
  });
  return c.json(
    rounded({
      ...heights,
      horizon: skyline.report,
      assumptions: [...skyline.assumptions, ...assumptions, ...heights.assumptions],
      cautions: [],
    }),
    200,
  );
});
