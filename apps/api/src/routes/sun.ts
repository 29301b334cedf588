import { caution, parseInstant, sunPosition } from "@fieldstop/core";
import { createRoute, z } from "@hono/zod-openapi";
import { jsonAnswer, operation, queryProblems } from "../http/operation";
import { rounded } from "../http/rounding";
import { airAt } from "../places/air";
import { placeTime } from "../places/resolve-place";
import { AirQuery } from "../schemas/air";
import { InstantInput } from "../schemas/instant";
import { PlaceQuery } from "../schemas/place";
import { SunPosition } from "../schemas/sun";

const route = createRoute({
  method: "get",
  path: "/v1/sun",
  operationId: "getSunPosition",
  tags: ["sky"],
  summary: "Where the sun stands",
  description: "Altitude and azimuth of the sun's centre at a place, now or at an instant.",
  request: { query: z.strictObject({ ...PlaceQuery, ...AirQuery, instant: InstantInput.optional() }) },
  responses: { 200: jsonAnswer(SunPosition, "The sun's position"), ...queryProblems },
});

export const getSunPosition = operation(route, (c) => {
  const { instant, pressureHPa, temperatureC, ...place } = c.req.valid("query");
  const services = c.var.services;
  const { timeZone, clock, assumptions } = placeTime(services, place);
  const air = airAt({ pressureHPa, temperatureC }, place.elevationM);
  const instantMs = instant === undefined ? services.nowMs() : parseInstant(instant);
  return c.json(
    rounded({
      instant: clock.format(instantMs),
      ...sunPosition(instantMs, place, air.atmosphere),
      timeZone,
      assumptions: [...assumptions, ...air.assumptions],
      cautions: [caution("sun-through-optics")],
    }),
    200,
  );
});
