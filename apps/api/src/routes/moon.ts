import { moonPhase, moonPosition, parseInstant } from "@fieldstop/core";
import { createRoute, z } from "@hono/zod-openapi";
import { jsonAnswer, operation, queryProblems } from "../http/operation";
import { rounded } from "../http/rounding";
import { airAt } from "../places/air";
import { placeTime } from "../places/resolve-place";
import { AirQuery } from "../schemas/air";
import { InstantInput } from "../schemas/instant";
import { MoonPosition } from "../schemas/moon";
import { PlaceQuery } from "../schemas/place";

const route = createRoute({
  method: "get",
  path: "/v1/moon",
  operationId: "getMoonPosition",
  tags: ["sky"],
  summary: "Where the moon stands",
  description:
    "Altitude and azimuth of the moon's centre at a place, now or at an instant, with its distance, the size of its disc, how much of it is lit, and its phase.",
  request: { query: z.strictObject({ ...PlaceQuery, ...AirQuery, instant: InstantInput.optional() }) },
  responses: { 200: jsonAnswer(MoonPosition, "The moon's position and phase"), ...queryProblems },
});

export const getMoonPosition = operation(route, (c) => {
  const { instant, pressureHPa, temperatureC, ...place } = c.req.valid("query");
  const services = c.var.services;
  const { timeZone, clock, assumptions } = placeTime(services, place);
  const air = airAt({ pressureHPa, temperatureC }, place.elevationM);
  const instantMs = instant === undefined ? services.nowMs() : parseInstant(instant);
  return c.json(
    rounded({
      instant: clock.format(instantMs),
      ...moonPosition(instantMs, place, air.atmosphere),
      ...moonPhase(instantMs),
      timeZone,
      assumptions: [...assumptions, ...air.assumptions],
      cautions: [],
    }),
    200,
  );
});
