import { createRoute } from "@hono/zod-openapi";
import { languageFor } from "../../formats/messages/language";
import { answerLines } from "../../formats/ndjson";
import { NDJSON_TYPE } from "../../middleware/representations";
import { ProblemError, problemBody } from "../../problems/problem";
import { bodyProblems, jsonBody, operation } from "../operation";
import { FORECASTS } from "./forecast.examples";
import { ForecastsInput, ForecastsLine } from "./forecast.schema";
import { forecastsAt } from "./forecasts-at";

const route = createRoute({
  method: "post",
  path: "/v1/forecasts",
  operationId: "streamForecasts",
  tags: ["forecast"],
  summary: "The forecasts of up to 1,000 places, as they are ready",
  description:
    "One line of JSON for each place (application/x-ndjson), in the order in which they are ready: the forecast, or the problem of that place alone. The last line counts them; without it the stream was cut short. The reader sets the pace, and whoever hangs up ends the work.",
  request: { body: jsonBody(ForecastsInput, FORECASTS) },
  responses: {
    200: {
      description: "A line for each place, and one that counts them",
      content: { [NDJSON_TYPE]: { schema: ForecastsLine } },
    },
    ...bodyProblems,
  },
});

export const streamForecasts = operation(
  route,
  async (c) => {
    const { places, lang } = c.req.valid("json");
    const { services } = c.var;
    const { exchange } = c.env;
    const language = languageFor(lang);
    const problemOf = (error: unknown) => {
      if (error instanceof ProblemError) return problemBody(exchange, error.key, error.details);
      // the reader has gone, and what was under way for it with it
      if (!exchange.isOver) services.reportFault(error, exchange.requestId);
      return problemBody(exchange, "internal", { detail: "The service met a fault of its own." });
    };
    c.header("Content-Language", language.tag);
    return answerLines(c, forecastsAt(services, { places, language, problemOf })) as never;
  },
  { points: 20 },
);
