import { addDays } from "@fieldstop/core/instants";
import type { Subject } from "@fieldstop/core/light";
import { type OutingPlan, type OutingRequest, planOutingStepwise } from "@fieldstop/core/outing";
import { inSlices } from "@fieldstop/core/stepwise";
import { resolveSubject } from "../light/light-windows-at";
import { othersTurn } from "../others-turn";
import type { AskedHorizon } from "../places/asked-horizon";
import type { AskedPlace } from "../places/asked-place";
import { placeTime } from "../places/place-time";
import { resolveHorizon } from "../places/resolve-horizon";
import type { Surroundings } from "../surroundings";
import { outingTideAt } from "../tides/outing-tide-at";

/** One evening or morning at a place; default today's. */
export interface OutingAsked
  extends Pick<OutingRequest, "session" | "camera" | "filters" | "sky" | "targetShutterSeconds"> {
  readonly place: AskedPlace;
  readonly date?: string | undefined;
  readonly subject?: Omit<Subject, "horizon"> | undefined;
  readonly horizon?: AskedHorizon | undefined;
  /** Id of a tide station, or `nearest`; default: no tide. */
  readonly tideStation?: string | undefined;
}

/** Steps of a plan at one go: some milliseconds of work. */
const STEPS_AT_A_TIME = 5;

/** The outing that a request asks for, with zone, tide and terrain looked up. */
export async function outingAt(surroundings: Surroundings, request: OutingAsked): Promise<OutingPlan> {
  const { place, tideStation, ...asked } = request;
  const { timeZone, clock, assumptions } = placeTime(surroundings, place);
  const date = asked.date ?? clock.dateAt(surroundings.nowMs());
  // a day that cannot be is refused before any terrain is read
  addDays(date, 0);
  const tide = await outingTideAt(surroundings, tideStation, place, { date, timeZone, session: asked.session });
  const terrain = await resolveHorizon(surroundings, place, asked.horizon);
  const steps = planOutingStepwise({
    ...asked,
    place: { ...place, elevationM: place.elevationM ?? terrain.groundElevationM },
    date,
    timeZone,
    horizon: terrain.horizon,
    tide: tide?.tide,
    subject: await resolveSubject(surroundings, { place, subject: asked.subject, horizon: asked.horizon }),
  });
  const outing = await inSlices(steps, STEPS_AT_A_TIME, () => othersTurn(surroundings.signal));
  const all = [...assumptions, ...terrain.assumptions, ...(tide?.assumptions ?? []), ...outing.assumptions];
  return { ...outing, assumptions: all };
}
