import { createRoute, z } from "@hono/zod-openapi";
import { answerLightWindows } from "../../formats/answer-light-windows";
import { settledBy } from "../../middleware/lifetime";
import { ICS_TYPE, SVG_TYPE } from "../../middleware/representations";
import { CalendarDays, PictureWidth } from "../forecast/form-options.schema";
import { operation, queryProblems } from "../operation";
import { pictureAnswer } from "../picture";
import { textAnswer } from "../text-answer";
import { LightWindowsQuery } from "./light-windows.schema";

const picture = createRoute({
  method: "get",
  path: "/v1/light-windows.svg",
  operationId: "drawLightWindows",
  tags: ["light"],
  summary: "The light of one day as a strip to embed",
  description:
    "The local day from midnight to midnight: how dark the sky is, when the sun is up, and when it shines directly on the place behind its skyline. It reads in light and dark surroundings, and as text.",
  request: { query: z.strictObject({ ...LightWindowsQuery.shape, width: PictureWidth.optional() }) },
  responses: { 200: pictureAnswer("The strip"), ...queryProblems },
});

const calendar = createRoute({
  method: "get",
  path: "/v1/light-windows.ics",
  operationId: "listLightCalendar",
  tags: ["light"],
  summary: "The light of the coming days as a calendar to subscribe to",
  description:
    "Direct light, golden and blue hours of each day (RFC 5545), each under an id that stays with place, day and window.",
  request: { query: z.strictObject({ ...LightWindowsQuery.shape, days: CalendarDays.optional() }) },
  responses: { 200: textAnswer(ICS_TYPE, "The calendar"), ...queryProblems },
});

export const drawLightWindows = operation(
  picture,
  async (c) => (await answerLightWindows(c, SVG_TYPE, c.req.valid("query"))) as never,
  { lifetime: settledBy("date") },
);

export const listLightCalendar = operation(
  calendar,
  async (c) => (await answerLightWindows(c, ICS_TYPE, c.req.valid("query"))) as never,
  { lifetime: settledBy("date") },
);
