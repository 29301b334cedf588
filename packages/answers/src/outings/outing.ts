import { addDays } from "@fieldstop/core/instants";
import type { Subject } from "@fieldstop/core/light";
import type { Assumption } from "@fieldstop/core/notes";
import { type OutingPlan, type OutingRequest, planOuting } from "@fieldstop/core/outing";
import { resolveSubject } from "../light/light-windows-at";
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

/** All that a plan takes, as plain data. */
export interface OutingInput {
  readonly request: OutingRequest;
  /** Said before what the plan assumes itself. */
  readonly assumptions: readonly Assumption[];
}

/** Look up what a plan needs: zone, tide and terrain. */
export async function outingInput(surroundings: Surroundings, asked: OutingAsked): Promise<OutingInput> {
  const { place, tideStation, ...rest } = asked;
  const { timeZone, clock, assumptions } = placeTime(surroundings, place);
  const date = rest.date ?? clock.dateAt(surroundings.nowMs());
  // a day that cannot be is refused before any terrain is read
  addDays(date, 0);
  const tide = await outingTideAt(surroundings, tideStation, place, { date, timeZone, session: rest.session });
  const terrain = await resolveHorizon(surroundings, place, rest.horizon);
  return {
    request: {
      ...rest,
      place: { ...place, elevationM: place.elevationM ?? terrain.groundElevationM },
      date,
      timeZone,
      horizon: terrain.horizon,
      tide: tide?.tide,
      subject: await resolveSubject(surroundings, { place, subject: rest.subject, horizon: rest.horizon }),
    },
    assumptions: [...assumptions, ...terrain.assumptions, ...(tide?.assumptions ?? [])],
  };
}

/** Plan an outing, from plain data alone. Its numbers are not rounded. */
export function outing({ request, assumptions }: OutingInput): OutingPlan {
  const plan = planOuting(request);
  return { ...plan, assumptions: [...assumptions, ...plan.assumptions] };
}
