import * as operations from "@fieldstop/operations";
import { createRoute } from "@hono/zod-openapi";
import { json } from "../../middleware/answer";
import { bodyProblems, jsonAnswer, jsonBody, operation } from "../operation";
import { PANORAMA } from "./optics.examples";
import { Panorama, PanoramaInput } from "./panorama.schema";

const route = createRoute({
  method: "post",
  path: "/v1/optics/panorama",
  operationId: "planPanorama",
  tags: ["optics"],
  summary: "The frames of a panorama",
  description:
    "Columns and rows, how far to turn and tilt between frames so that they overlap where they overlap least, what is held everywhere, and the pixels of the stitched picture.",
  request: { body: jsonBody(PanoramaInput, PANORAMA) },
  responses: { 200: jsonAnswer(Panorama, "The frames, row by row"), ...bodyProblems },
});

export const planPanorama = operation(route, ({ body }) => json(operations.planPanorama(body)));
