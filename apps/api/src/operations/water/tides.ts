import { rounded, tideSourceOf, tidesAt } from "@fieldstop/operations";
import { createRoute } from "@hono/zod-openapi";
import { json } from "../../middleware/answer";
import { immutableBy } from "../../middleware/cache-control";
import { jsonAnswer, lookups, notFoundProblem, operation, queryProblems } from "../operation";
import { tidePoints } from "../shared/points";
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
  async ({ services, query }) => {
    const { radiusKm = 100, limit = 10, ...place } = query;
    const source = tideSourceOf(services);
    const stations = await source.stationsNear(place, radiusKm, limit);
    // the nearest comes first, if any is within the radius
    const nearest = stations[0] ?? (await source.nearestStation(place));
    return json(rounded({ stations, nearestKm: nearest?.distanceKm ?? null }));
  },
  { lifetime: "immutable" },
);

export const predictTides = operation(
  predict,
  async (request) => json(rounded(await tidesAt(lookups(request), request.query))),
  { lifetime: immutableBy("date"), points: ({ query }) => tidePoints(query) },
);
