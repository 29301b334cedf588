import * as answers from "@fieldstop/answers";
import { createRoute } from "@hono/zod-openapi";
import { answerLightWindows } from "../../formats/answer-light-windows";
import { languageFor } from "../../formats/messages/language";
import { settledBy } from "../../middleware/lifetime";
import { chosenType, ICS_TYPE, JSON_TYPE } from "../../middleware/representations";
import { alsoAs, bodyProblems, jsonAnswer, jsonBody, operation, queryProblems } from "../operation";
import { pictureAnswer } from "../picture";
import { textAnswer } from "../text-answer";
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
  async (c) => {
    const { lang, ...query } = c.req.valid("query");
    const type = chosenType(c);
    if (type !== undefined && type !== JSON_TYPE)
      return (await answerLightWindows(c, type, { ...query, lang })) as never;
    c.header("Content-Language", languageFor(lang).tag);
    return c.json(await answers.findLightWindows(c.var.services, query), 200);
  },
  { lifetime: settledBy("date") },
);

export const findLightWindowsFromBody = operation(byBody, async (c) =>
  c.json(await answers.findLightWindowsFromBody(c.var.services, c.req.valid("json")), 200),
);
