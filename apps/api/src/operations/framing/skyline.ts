import * as operations from "@fieldstop/operations";
import { createRoute } from "@hono/zod-openapi";
import { SVG_TYPE } from "../../middleware/accept";
import { json } from "../../middleware/answer";
import { SKYLINE } from "../light/light.examples";
import { alsoAs, bodyProblems, jsonAnswer, jsonBody, lookups, operation, picture, pictureAnswer } from "../operation";
import { SKYLINE_POINTS } from "../shared/points";
import { framePictureAt } from "./frame-picture-at";
import { ProjectedSkyline, SkylineInput } from "./projected-skyline.schema";

const asJson = createRoute({
  method: "post",
  path: "/v1/skyline",
  operationId: "projectSkyline",
  tags: ["framing"],
  summary: "The skyline in the frame",
  description:
    "The skyline as the camera sees it: a line across the frame, the straight line nearest to it and how far it strays, how much of the frame is sky, and where sun and moon stand in the frame or near it. With Accept: image/svg+xml, the picture of /v1/skyline.svg.",
  request: { body: jsonBody(SkylineInput, SKYLINE) },
  responses: { 200: alsoAs(jsonAnswer(ProjectedSkyline, "The frame"), pictureAnswer("The picture")), ...bodyProblems },
});

const asPicture = createRoute({
  method: "post",
  path: "/v1/skyline.svg",
  operationId: "drawSkyline",
  tags: ["framing"],
  summary: "The skyline in the frame as a picture",
  description:
    "The frame with its skyline, the straight line nearest to it, and sun and moon to scale. It reads in light and dark surroundings, and as text.",
  request: { body: jsonBody(SkylineInput, SKYLINE) },
  responses: { 200: pictureAnswer("The picture"), ...bodyProblems },
});

export const projectSkyline = operation(
  asJson,
  async (request) => {
    const { type, body } = request;
    if (type === SVG_TYPE) return picture(await framePictureAt(lookups(request), body));
    return json(await operations.projectSkyline(lookups(request), body));
  },
  { points: SKYLINE_POINTS },
);

export const drawSkyline = operation(
  asPicture,
  async (request) => picture(await framePictureAt(lookups(request), request.body)),
  { points: SKYLINE_POINTS },
);
