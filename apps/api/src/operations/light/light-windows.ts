import * as operations from "@fieldstop/operations";
import { createRoute } from "@hono/zod-openapi";
import { languageFor } from "../../formats/messages/language";
import { ICS_TYPE, JSON_TYPE } from "../../middleware/accept";
import { json } from "../../middleware/answer";
import { immutableBy } from "../../middleware/cache-control";
import {
  alsoAs,
  bodyProblems,
  jsonAnswer,
  jsonBody,
  lookups,
  operation,
  pictureAnswer,
  queryProblems,
  textAnswer,
} from "../operation";
import { DEFAULT_DAYS } from "../shared/form-options";
import { calendarPoints, SKYLINE_POINTS } from "../shared/points";
import { answerLightWindows } from "./answer-light-windows";
import { LIGHT_WINDOWS } from "./light.examples";
import { LightWindows, LightWindowsInput, LightWindowsQuery } from "./light-windows.schema";

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
    "The almanac's events, golden and blue hour and the twilights of a local day, and when the sun shines directly on the place behind its real skyline, with what takes the light away. With Accept: image/svg+xml or text/calendar, the same as under /v1/light-windows.svg and .ics.",
  request: {
    query: LightWindowsQuery,
  },
  responses: {
    200: alsoAs(
      jsonAnswer(LightWindows, "The light of the day"),
      pictureAnswer("The strip"),
      textAnswer(ICS_TYPE, "The calendar"),
    ),
    ...queryProblems,
  },
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
  async (request) => {
    if (request.type !== JSON_TYPE) return answerLightWindows(request, request.type, request.query);
    const { lang, ...query } = request.query;
    const light = await operations.findLightWindows(lookups(request), query);
    return json(light, { "content-language": languageFor(lang).tag });
  },
  {
    lifetime: immutableBy("date"),
    points: ({ type }) => (type === ICS_TYPE ? calendarPoints(DEFAULT_DAYS) : SKYLINE_POINTS),
  },
);

export const findLightWindowsFromBody = operation(
  byBody,
  async (request) => json(await operations.findLightWindowsFromBody(lookups(request), request.body)),
  { points: 2 * SKYLINE_POINTS },
);
