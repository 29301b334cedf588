import { rounded, tideSourceOf, tidesAt } from "@fieldstop/answers";
import { createRoute } from "@hono/zod-openapi";
import { settledBy } from "../../middleware/lifetime";
import { jsonAnswer, notFoundProblem, operation, queryProblems } from "../operation";
import { TideStations, TideStationsQuery, Tides, TidesQuery } from "./tide.schema";

const list = createRoute({
  method: "get",
  path: "/v1/tide-stations",
  operationId: "listTideStations",
  tags: ["water"],
  summary: "Which tide stations are near",
  description:
    "The stations within a radius of a place, nearest first, each with the attribution that is to be shown with its tide. Stations whose data may not be used commercially are left out.",
  request: { query: TideStationsQuery },
  responses: { 200: jsonAnswer(TideStations, "The stations"), ...queryProblems },
});

const predict = createRoute({
  method: "get",
  path: "/v1/tides",
  operationId: "predictTides",
  tags: ["water"],
  summary: "The tide over a day, or up to 31 days",
  description:
    "High and low waters and the height each 10 minutes at a station, or at the station nearest to a place, if it is within 100 km; and, for a level, when the water is under it and over it and which golden and blue hours fall there. Predictions are not for navigation.",
  request: { query: TidesQuery },
  responses: { 200: jsonAnswer(Tides, "The tide"), ...notFoundProblem, ...queryProblems },
});

export const listTideStations = operation(
  list,
  async (c) => {
    const { radiusKm = 100, limit = 10, ...place } = c.req.valid("query");
    const source = tideSourceOf(c.var.services);
    const stations = await source.stationsNear(place, radiusKm, limit);
    // the nearest comes first, if any is within the radius
    const nearest = stations[0] ?? (await source.nearestStation(place));
    return c.json(rounded({ stations, nearestKm: nearest?.distanceKm ?? null }), 200);
  },
  { lifetime: "settled" },
);

export const predictTides = operation(
  predict,
  async (c) => {
    return c.json(rounded(await tidesAt(c.var.services, c.req.valid("query"))), 200);
  },
  { lifetime: settledBy("date") },
);
