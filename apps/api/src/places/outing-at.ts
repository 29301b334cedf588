import { addDays, type OutingPlan, planOuting } from "@fieldstop/core";
import type { z } from "@hono/zod-openapi";
import type { OutingInput } from "../schemas/outing";
import type { Services } from "../services";
import { resolveSubject } from "./light-windows-at";
import { outingTideAt } from "./outing-tide-at";
import { resolveHorizon } from "./resolve-horizon";
import { placeTime } from "./resolve-place";

/** The outing that a request asks for, with zone, tide and terrain looked up. */
export async function outingAt(services: Services, request: z.output<typeof OutingInput>): Promise<OutingPlan> {
  const { place, tideStation, ...asked } = request;
  const { timeZone, clock, assumptions } = placeTime(services, place);
  const date = asked.date ?? clock.dateAt(services.nowMs());
  // a day that cannot be is refused before any terrain is read
  addDays(date, 0);
  const tide = await outingTideAt(services, tideStation, place, { date, timeZone, session: asked.session });
  const terrain = await resolveHorizon(services, place, asked.horizon);
  const outing = planOuting({
    ...asked,
    place: { ...place, elevationM: place.elevationM ?? terrain.groundElevationM },
    date,
    timeZone,
    horizon: terrain.horizon,
    tide: tide?.tide,
    subject: await resolveSubject(services, { place, subject: asked.subject, horizon: asked.horizon }),
  });
  const all = [...assumptions, ...terrain.assumptions, ...(tide?.assumptions ?? []), ...outing.assumptions];
  return { ...outing, assumptions: all };
}
