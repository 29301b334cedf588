import { createRoute, z } from "@hono/zod-openapi";
import { lifespanOf } from "../../middleware/answer";
import { immutableBy } from "../../middleware/cache-control";
import { lookups, operation, picture, pictureAnswer, queryProblems } from "../operation";
import { DateInput } from "../shared/instant";
import { queryNumber } from "../shared/numbers";
import { PlaceQuery } from "../shared/place";
import { SKYLINE_POINTS } from "../shared/points";
import { horizonStripAt } from "./horizon-strip-at";

const route = createRoute({
  method: "get",
  path: "/v1/horizon.svg",
  operationId: "drawHorizon",
  tags: ["horizon"],
  summary: "The skyline round a place as a picture, with the sun's path",
  description:
    "A strip of the whole horizon with the sun's path of a local day over it, and the moments at which the skyline cuts it, each with its local time and azimuth. It reads in light and dark surroundings, and as text.",
  request: {
    query: z.strictObject({
      ...PlaceQuery,
      name: z.string().max(200).optional(),
      date: DateInput.optional(),
      horizon: z
        .enum(["terrain", "flat"])
        .optional()
        .openapi({ description: "Default: terrain where the service has it" }),
      width: queryNumber({
        min: 320,
        max: 2400,
        description: "Width that the picture is laid out for [px]; default 1200",
        example: 400,
      }).optional(),
    }),
  },
  responses: { 200: pictureAnswer("The picture"), ...queryProblems },
});

export const drawHorizon = operation(
  route,
  async (request) => {
    const { horizon, ...place } = request.query;
    const kind = horizon === undefined ? {} : { horizon: { kind: horizon } };
    const { markup, light } = await horizonStripAt(lookups(request), { ...place, ...kind });
    return picture(markup, lifespanOf(light));
  },
  { lifetime: immutableBy("date"), points: 2 * SKYLINE_POINTS },
);
