import { addDays, planOuting as plan } from "@fieldstop/core";
import { createRoute } from "@hono/zod-openapi";
import { bodyProblems, jsonAnswer, jsonBody, operation } from "../../http/operation";
import { rounded } from "../../http/rounding";
import { resolveSubject } from "../../places/light-windows-at";
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
  responses: { 200: jsonAnswer(OutingPlan, "The plan"), ...bodyProblems },
});

export const planOuting = operation(route, async (c) => {
  const { place, ...asked } = c.req.valid("json");
  const { services } = c.var;
  const { timeZone, clock, assumptions } = placeTime(services, place);
  const date = asked.date ?? clock.dateAt(services.nowMs());
  // a day that cannot be is refused before any terrain is read
  addDays(date, 0);
  const terrain = await resolveHorizon(services, place, asked.horizon);
  const outing = plan({
    ...asked,
    place: { ...place, elevationM: place.elevationM ?? terrain.groundElevationM },
    date,
    timeZone,
    horizon: terrain.horizon,
    subject: await resolveSubject(services, { place, subject: asked.subject, horizon: asked.horizon }),
  });
  const all = [...assumptions, ...terrain.assumptions, ...outing.assumptions];
  return c.json(rounded({ ...outing, assumptions: all }), 200);
});
