import { createRoute } from "@hono/zod-openapi";
import { languageFor } from "../../formats/messages/language";
import { lines } from "../../formats/ndjson";
import { NDJSON_TYPE } from "../../middleware/accept";
import { ProblemError, problemBody } from "../../problems/problem";
import { bodyProblems, jsonBody, lookups, operation } from "../operation";
import { planPoints, type TideRequest } from "../shared/points";
import { FORECASTS } from "./forecast.examples";
import { ForecastsInput, ForecastsLine, MAX_FORECASTS_BYTES } from "./forecast.schema";
import { forecastLines } from "./forecast-lines";
import { StreamSlots } from "./stream-slots";

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

const slots = new StreamSlots({ total: 32, perClient: 8 });

export const streamForecasts = operation(
  route,
  ({ body: { places, lang }, context, services }) => {
    const free = slots.take(context.client ?? "");
    const problemOf = (error: unknown) => {
      if (error instanceof ProblemError) return problemBody(context, error.key, error.details);
      // the reader has gone, and what was under way for it with it
      if (!context.isOver) services.reportFault(error, context.requestId);
      return problemBody(context, "internal", { detail: "The service met a fault of its own." });
    };
    const texts = places.map((place) => JSON.stringify(place));
    const headers = { "content-language": languageFor(lang).tag };
    return lines(forecastLines(lookups({ services, context }), { places: texts, lang, problemOf }), headers, free);
  },
  {
    maxBytes: MAX_FORECASTS_BYTES,
    points: ({ body }) => body.places.reduce<number>((sum, place) => sum + planPoints((place ?? {}) as TideRequest), 0),
  },
);
