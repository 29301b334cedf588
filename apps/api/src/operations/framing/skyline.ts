import * as answers from "@fieldstop/answers";
import { createRoute } from "@hono/zod-openapi";
import { SKYLINE } from "../light/light.examples";
import { alsoAs, bodyProblems, jsonAnswer, jsonBody, operation } from "../operation";
import { answerPicture, pictureAnswer, pictureInstead, wantsPicture } from "../picture";
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

export const projectSkyline = operation(asJson, async (c) => {
  const asked = c.req.valid("json");
  if (wantsPicture(c)) return pictureInstead(c, await framePictureAt(c.var.services, asked));
  return c.json(await answers.projectSkyline(c.var.services, asked), 200);
});

export const drawSkyline = operation(asPicture, async (c) =>
  answerPicture(c, await framePictureAt(c.var.services, c.req.valid("json"))),
);
