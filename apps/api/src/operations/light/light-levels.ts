import { lightLevelsInput } from "@fieldstop/operations";
import { createRoute, type z } from "@hono/zod-openapi";
import { SVG_TYPE } from "../../middleware/accept";
import { jsonText } from "../../middleware/answer";
import { runJob } from "../../services";
import {
  alsoAs,
  bodyProblems,
  jsonAnswer,
  jsonBody,
  lookups,
  type OperationRequest,
  operation,
  picture,
  pictureAnswer,
} from "../operation";
import { levelPoints } from "../shared/points";
import { refuseLongSpan } from "./draw-levels";
import { LIGHT_LEVELS, LIGHT_LEVELS_PICTURE } from "./light.examples";
import { LightLevels, LightLevelsInput, LightLevelsPictureInput } from "./light-levels.schema";

const asJson = createRoute({
  method: "post",
  path: "/v1/light-levels",
  operationId: "traceLightLevels",
  tags: ["light"],
  summary: "How bright it is, minute by minute",
  description:
    "A timeline over a span or a local day: sun, moon, illuminance, the light of sky, lit ground, shade and still water, the contrast that a frame has to hold, whether the sun shines directly on the place behind its skyline, and how fast the light goes. With Accept: image/svg+xml, the picture of /v1/light-levels.svg, 1200 px wide.",
  request: { body: jsonBody(LightLevelsInput, LIGHT_LEVELS) },
  responses: {
    200: alsoAs(jsonAnswer(LightLevels, "The light over the span"), pictureAnswer("The picture")),
    ...bodyProblems,
  },
});

const asPicture = createRoute({
  method: "post",
  path: "/v1/light-levels.svg",
  operationId: "drawLightLevels",
  tags: ["light"],
  summary: "How bright it is, minute by minute, as a picture",
  description:
    "How bright sky, lit ground, open shade and still water are [EV100] against local time, over a span of up to 48 hours or a local day: the contrast of sky and ground is shaded between their curves and written in stops, direct light stands along the foot, and sunrise, sunset and civil twilight are marked. It reads in light and dark surroundings, and as text.",
  request: { body: jsonBody(LightLevelsPictureInput, LIGHT_LEVELS_PICTURE) },
  responses: { 200: pictureAnswer("The picture"), ...bodyProblems },
});

const DEFAULT_WIDTH_PX = 1200;

type LevelsInput = z.output<typeof LightLevelsInput>;

export const traceLightLevels = operation(
  asJson,
  async (request) => {
    if (request.type === SVG_TYPE) return levelsPicture(request, request.body, DEFAULT_WIDTH_PX);
    const services = lookups(request);
    return jsonText(await runJob(services, "lightLevelsJson", await lightLevelsInput(services, request.body)));
  },
  { points: ({ body }) => levelPoints(body) },
);

export const drawLightLevels = operation(
  asPicture,
  (request) => {
    const { width = DEFAULT_WIDTH_PX, ...body } = request.body;
    return levelsPicture(request, body, width);
  },
  { points: ({ body }) => levelPoints(body) },
);

async function levelsPicture(
  request: Pick<OperationRequest, "services" | "context">,
  body: LevelsInput,
  width: number,
) {
  refuseLongSpan(body);
  const services = lookups(request);
  // no direction is drawn
  const input = await lightLevelsInput(services, { ...body, directions: undefined });
  return picture(await runJob(services, "lightLevelsPicture", { input, width }));
}
