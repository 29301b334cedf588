import { createRoute, z } from "@hono/zod-openapi";
import { ICS_TYPE, MARKDOWN_TYPE, SVG_TYPE, TEXT_TYPE } from "../../middleware/accept";
import { notFoundProblem, operation, pictureAnswer, queryProblems, textAnswer } from "../operation";
import { CalendarDays, DEFAULT_DAYS, PictureWidth } from "../shared/form-options";
import { planPoints, type TideRequest } from "../shared/points";
import { answerForecast } from "./answer-forecast";
import { ForecastQuery } from "./forecast.schema";

const problems = { ...notFoundProblem, ...queryProblems };

const picture = createRoute({
  method: "get",
  path: "/v1/forecast.svg",
  operationId: "drawForecast",
  tags: ["forecast"],
  summary: "A forecast as a card to embed",
  description:
    "The headline, the session as a strip of light with its moments, and the lines of the forecast, as a picture that reads in light and dark surroundings, and as text.",
  request: { query: z.strictObject({ ...ForecastQuery.shape, width: PictureWidth.optional() }) },
  responses: { 200: pictureAnswer("The card"), ...problems },
});

const calendar = createRoute({
  method: "get",
  path: "/v1/forecast.ics",
  operationId: "listForecastCalendar",
  tags: ["forecast"],
  summary: "The forecasts of the coming days as a calendar to subscribe to",
  description:
    "One entry for each day (RFC 5545), from when to be there until when to stay, under an id that stays with place, day and session. Days without an answer, as past the year 2100, are left out.",
  request: { query: z.strictObject({ ...ForecastQuery.shape, days: CalendarDays.optional() }) },
  responses: { 200: textAnswer(ICS_TYPE, "The calendar"), ...problems },
});

const markdown = createRoute({
  method: "get",
  path: "/v1/forecast.md",
  operationId: "writeForecastMarkdown",
  tags: ["forecast"],
  summary: "A forecast as Markdown",
  description: "The headline, the lines, the moments as a table, and what to take care of.",
  request: { query: ForecastQuery },
  responses: { 200: textAnswer(MARKDOWN_TYPE, "The forecast"), ...problems },
});

const text = createRoute({
  method: "get",
  path: "/v1/forecast.txt",
  operationId: "writeForecastText",
  tags: ["forecast"],
  summary: "A forecast as plain text",
  description:
    "The headline, the lines, the moments and what to take care of, in lines of at most 76 characters but for the moments.",
  request: { query: ForecastQuery },
  responses: { 200: textAnswer(TEXT_TYPE, "The forecast"), ...problems },
});

const one = { lifetime: "short", points: ({ query }: { readonly query: TideRequest }) => planPoints(query) } as const;

export const drawForecast = operation(picture, (request) => answerForecast(request, SVG_TYPE, request.query), one);
export const listForecastCalendar = operation(calendar, (request) => answerForecast(request, ICS_TYPE, request.query), {
  lifetime: "short",
  points: ({ query }) => planPoints(query) * (query.days ?? DEFAULT_DAYS),
});
export const writeForecastMarkdown = operation(
  markdown,
  (request) => answerForecast(request, MARKDOWN_TYPE, request.query),
  one,
);
export const writeForecastText = operation(text, (request) => answerForecast(request, TEXT_TYPE, request.query), one);
