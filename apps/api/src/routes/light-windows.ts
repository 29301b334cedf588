import * as answers from "@fieldstop/answers";
import { createRoute, z } from "@hono/zod-openapi";
import { LIGHT_WINDOWS } from "../examples/light";
import { bodyProblems, jsonAnswer, jsonBody, operation, queryProblems } from "../http/operation";
import { settledBy } from "../policies/lifetime";
import { AirQuery } from "../schemas/air";
import { DateInput } from "../schemas/instant";
import { LightWindows, LightWindowsInput } from "../schemas/light-windows";
import { PlaceQuery } from "../schemas/place";

const about = {
  path: "/v1/light-windows" as const,
  tags: ["light"],
  summary: "When the light comes and goes on one day",
};

const byQuery = createRoute({
  ...about,
  method: "get",
  operationId: "findLightWindows",
  description:
    "The almanac's events, golden and blue hour and the twilights of a local day, and when the sun shines directly on the place behind its real skyline, with what takes the light away.",
  request: {
    query: z.strictObject({
      ...PlaceQuery,
      ...AirQuery,
      name: z.string().max(200).optional(),
      date: DateInput.optional(),
      horizon: z
        .enum(["terrain", "flat"])
        .optional()
        .openapi({ description: "Default: terrain where the service has it" }),
    }),
  },
  responses: { 200: jsonAnswer(LightWindows, "The light of the day"), ...queryProblems },
});

const byBody = createRoute({
  ...about,
  method: "post",
  operationId: "findLightWindowsFromBody",
  description:
    "The same with a skyline of one's own, or a subject that has its own place and faces one way: its direct light comes back as subjectLight.",
  request: { body: jsonBody(LightWindowsInput, LIGHT_WINDOWS) },
  responses: { 200: jsonAnswer(LightWindows, "The light of the day"), ...bodyProblems },
});

export const findLightWindows = operation(
  byQuery,
  async (c) => c.json(await answers.findLightWindows(c.var.services, c.req.valid("query")), 200),
  { lifetime: settledBy("date") },
);

export const findLightWindowsFromBody = operation(byBody, async (c) =>
  c.json(await answers.findLightWindowsFromBody(c.var.services, c.req.valid("json")), 200),
);
