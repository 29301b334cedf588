import * as answers from "@fieldstop/answers";
import { createRoute } from "@hono/zod-openapi";
import { alsoAs, bodyProblems, jsonAnswer, jsonBody, operation } from "../operation";
import { answerPicture, pictureAnswer, pictureInstead, wantsPicture } from "../picture";
import { LIGHT_LEVELS, LIGHT_LEVELS_PICTURE } from "./light.examples";
import { LightLevels, LightLevelsInput, LightLevelsPictureInput } from "./light-levels.schema";
import { lightLevelsPictureAt } from "./light-levels-picture-at";

const asJson = createRoute({
  method: "post",
  path: "/v1/light-levels",
  operationId: "traceLightLevels",
  tags: ["light"],
  summary: "How bright it is, minute by minute",
  description:
    "A timeline over a span or a local day: sun, moon, illuminance, the light of sky, lit ground, shade and still water, the contrast that a frame has to hold, whether the sun shines directly on the place behind its skyline, and how fast the light goes. With Accept: image/svg+xml, the picture of /v1/light-levels.svg, 1200 px wide.",
  request: { body: jsonBody(LightLevelsInput, LIGHT_LEVELS) },
  responses: {
    200: alsoAs(jsonAnswer(LightLevels, "The light over the span"), pictureAnswer("The picture")),
    ...bodyProblems,
  },
});

const asPicture = createRoute({
  method: "post",
  path: "/v1/light-levels.svg",
  operationId: "drawLightLevels",
  tags: ["light"],
  summary: "How bright it is, minute by minute, as a picture",
  description:
    "How bright sky, lit ground, open shade and still water are [EV100] against local time, over a span of up to 48 hours or a local day: the contrast of sky and ground is shaded between their curves and written in stops, direct light stands along the foot, and sunrise, sunset and civil twilight are marked. It reads in light and dark surroundings, and as text.",
  request: { body: jsonBody(LightLevelsPictureInput, LIGHT_LEVELS_PICTURE) },
  responses: { 200: pictureAnswer("The picture"), ...bodyProblems },
});

export const traceLightLevels = operation(asJson, async (c) => {
  const asked = c.req.valid("json");
  if (wantsPicture(c)) return pictureInstead(c, await lightLevelsPictureAt(c.var.services, asked));
  return c.json(await answers.traceLightLevels(c.var.services, asked), 200);
});

export const drawLightLevels = operation(asPicture, async (c) =>
  answerPicture(c, await lightLevelsPictureAt(c.var.services, c.req.valid("json"))),
);
