import { createRoute } from "@hono/zod-openapi";
import { ICS_TYPE, MARKDOWN_TYPE, TEXT_TYPE } from "../../middleware/accept";
import { alsoAs, jsonAnswer, notFoundProblem, operation, pictureAnswer, queryProblems, textAnswer } from "../operation";
import { DEFAULT_DAYS } from "../shared/form-options";
import { planPoints } from "../shared/points";
import { answerForecast } from "./answer-forecast";
import { Forecast, ForecastQuery } from "./forecast.schema";

const route = createRoute({
  method: "get",
  path: "/v1/forecast",
  operationId: "getForecast",
  tags: ["forecast"],
  summary: "The light of one evening or morning, in a few sentences and in full",
  description:
    "When direct light goes or comes and why, the outlook for the sky, contrast and approach, moon, tide, and when to be there: a headline, four to seven short lines, and the whole plan under them. Cloud, temperature and humidity as given, else from the service's weather provider where it has one. With Accept: image/svg+xml, text/calendar, text/markdown or text/plain, the same as under /v1/forecast.svg, .ics, .md and .txt.",
  request: { query: ForecastQuery },
  responses: {
    200: alsoAs(
      jsonAnswer(Forecast, "The forecast"),
      pictureAnswer("The card"),
      textAnswer(ICS_TYPE, "The calendar"),
      textAnswer(MARKDOWN_TYPE, "The forecast"),
      textAnswer(TEXT_TYPE, "The forecast"),
    ),
    ...notFoundProblem,
    ...queryProblems,
  },
});

export const getForecast = operation(route, (request) => answerForecast(request, request.type, request.query), {
  lifetime: "short",
  points: ({ type, query }) => planPoints(query) * (type === ICS_TYPE ? DEFAULT_DAYS : 1),
});
