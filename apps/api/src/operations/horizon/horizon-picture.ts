import { createRoute, z } from "@hono/zod-openapi";
import { holdingOf } from "../../middleware/answer";
import { settledBy } from "../../middleware/lifetime";
import { operation, queryProblems } from "../operation";
import { answerPicture, pictureAnswer } from "../picture";
import { DateInput } from "../shared/instant";
import { queryNumber } from "../shared/numbers";
import { PlaceQuery } from "../shared/place";
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
  async (c) => {
    const { horizon, ...asked } = c.req.valid("query");
    const kind = horizon === undefined ? {} : { horizon: { kind: horizon } };
    const { markup, light } = await horizonStripAt(c.var.services, { ...asked, ...kind });
    return answerPicture(c, markup, holdingOf(light));
  },
  { lifetime: settledBy("date") },
);
