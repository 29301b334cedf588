import { rounded } from "@fieldstop/answers";
import { createRoute } from "@hono/zod-openapi";
import { jsonAnswer, notFoundProblem, operation, queryProblems } from "../http/operation";
import { languageFor } from "../messages/language";
import { forecastAt } from "../places/forecast-at";
import { forecastRequestOf } from "../places/forecast-request";
import { Forecast, ForecastQuery } from "../schemas/forecast";

const route = createRoute({
  method: "get",
  path: "/v1/forecast",
  operationId: "getForecast",
  tags: ["forecast"],
  summary: "The light of one evening or morning, in a few sentences and in full",
  description:
    "When direct light goes or comes and why, the outlook for the sky, contrast and approach, moon, tide, and when to be there: a headline, four to seven short lines, and the whole plan under them. Cloud, temperature and humidity as given, else from the service's weather provider where it has one.",
  request: { query: ForecastQuery },
  responses: { 200: jsonAnswer(Forecast, "The forecast"), ...notFoundProblem, ...queryProblems },
});

export const getForecast = operation(
  route,
  async (c) => {
    const { lang, ...query } = c.req.valid("query");
    const language = languageFor(lang);
    const forecast = await forecastAt(c.var.services, forecastRequestOf(query), language);
    c.header("Content-Language", language.tag);
    return c.json(rounded(forecast), 200);
  },
  { lifetime: "passing" },
);
