import { addDays, planOuting as plan } from "@fieldstop/core";
import { createRoute } from "@hono/zod-openapi";
import { bodyProblems, jsonAnswer, jsonBody, notFoundProblem, operation } from "../../http/operation";
import { rounded } from "../../http/rounding";
import { resolveSubject } from "../../places/light-windows-at";
import { outingTideAt } from "../../places/outing-tide-at";
import { resolveHorizon } from "../../places/resolve-horizon";
import { placeTime } from "../../places/resolve-place";
import { OutingInput, OutingPlan } from "../../schemas/outing";

const route = createRoute({
  method: "post",
  path: "/v1/outings/plan",
  operationId: "planOuting",
  tags: ["outings"],
  summary: "One evening or morning, planned",
  description:
    "When to arrive and until when to stay; the moments that count, each with its light, its contrast, one frame, a graduated filter or a bracket with the reasons, settings, and the long exposure that the bag allows; what to pack.",
  request: { body: jsonBody(OutingInput) },
  responses: { 200: jsonAnswer(OutingPlan, "The plan"), ...notFoundProblem, ...bodyProblems },
});

export const planOuting = operation(route, async (c) => {
  const { place, tideStation, ...asked } = c.req.valid("json");
  const { services } = c.var;
  const { timeZone, clock, assumptions } = placeTime(services, place);
  const date = asked.date ?? clock.dateAt(services.nowMs());
  // a day that cannot be is refused before any terrain is read
  addDays(date, 0);
  const tide = await outingTideAt(services, tideStation, place, { date, timeZone, session: asked.session });
  const terrain = await resolveHorizon(services, place, asked.horizon);
  const outing = plan({
    ...asked,
    place: { ...place, elevationM: place.elevationM ?? terrain.groundElevationM },
    date,
    timeZone,
    horizon: terrain.horizon,
    tide: tide?.tide,
    subject: await resolveSubject(services, { place, subject: asked.subject, horizon: asked.horizon }),
  });
  const all = [...assumptions, ...terrain.assumptions, ...(tide?.assumptions ?? []), ...outing.assumptions];
  return c.json(rounded({ ...outing, assumptions: all }), 200);
});
