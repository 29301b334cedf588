import { rounded } from "@fieldstop/answers";
import { createRoute } from "@hono/zod-openapi";
import { answerForecast } from "../../formats/answer-forecast";
import { languageFor } from "../../formats/messages/language";
import { chosenType, ICS_TYPE, JSON_TYPE, MARKDOWN_TYPE, TEXT_TYPE } from "../../middleware/representations";
import { alsoAs, jsonAnswer, notFoundProblem, operation, queryProblems } from "../operation";
import { pictureAnswer } from "../picture";
import { textAnswer } from "../text-answer";
import { Forecast, ForecastQuery } from "./forecast.schema";
import { forecastAt } from "./forecast-at";
import { forecastRequestOf } from "./forecast-request";

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

export const getForecast = operation(
  route,
  async (c) => {
    const query = c.req.valid("query");
    const type = chosenType(c);
    if (type !== undefined && type !== JSON_TYPE) return (await answerForecast(c, type, query)) as never;
    const { lang, ...asked } = query;
    const language = languageFor(lang);
    c.header("Content-Language", language.tag);
    return c.json(rounded(await forecastAt(c.var.services, forecastRequestOf(asked), language)), 200);
  },
  { lifetime: "passing" },
);
