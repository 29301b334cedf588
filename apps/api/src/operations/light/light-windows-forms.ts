import { createRoute, z } from "@hono/zod-openapi";
import { ICS_TYPE, SVG_TYPE } from "../../middleware/accept";
import { immutableBy } from "../../middleware/cache-control";
import { operation, pictureAnswer, queryProblems, textAnswer } from "../operation";
import { CalendarDays, PictureWidth } from "../shared/form-options";
import { calendarPoints, SKYLINE_POINTS } from "../shared/points";
import { answerLightWindows } from "./answer-light-windows";
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

export const drawLightWindows = operation(picture, (request) => answerLightWindows(request, SVG_TYPE, request.query), {
  lifetime: immutableBy("date"),
  points: SKYLINE_POINTS,
});

export const listLightCalendar = operation(
  calendar,
  (request) => answerLightWindows(request, ICS_TYPE, request.query),
  { lifetime: immutableBy("date"), points: ({ query }) => calendarPoints(query.days) },
);
