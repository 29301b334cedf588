import { createRoute } from "@hono/zod-openapi";
import { bodyProblems, jsonAnswer, jsonBody, operation } from "../http/operation";
import { lightLevelsAt } from "../places/light-levels-at";
import { LightLevels, LightLevelsInput } from "../schemas/light-levels";

const route = createRoute({
  method: "post",
  path: "/v1/light-levels",
  operationId: "traceLightLevels",
  tags: ["light"],
  summary: "How bright it is, minute by minute",
  description:
    "A timeline over a span or a local day: sun, moon, illuminance, the light of sky, lit ground, shade and still water, the contrast that a frame has to hold, whether the sun shines directly on the place behind its skyline, and how fast the light goes.",
  request: { body: jsonBody(LightLevelsInput) },
  responses: { 200: jsonAnswer(LightLevels, "The light over the span"), ...bodyProblems },
});

export const traceLightLevels = operation(route, async (c) => {
  return c.json(await lightLevelsAt(c.var.services, c.req.valid("json")), 200);
});
