import { addDays } from "@fieldstop/core/instants";
import type { Subject } from "@fieldstop/core/light";
import type { Assumption } from "@fieldstop/core/notes";
import { type OutingRequest as CoreOutingRequest, type OutingPlan, planOuting } from "@fieldstop/core/outing";
import type { Dependencies } from "../dependencies";
import { resolveSubject } from "../light/light-windows-at";
import type { HorizonInput } from "../places/horizon-input";
import type { PlaceInput } from "../places/place-input";
import { placeTime } from "../places/place-time";
import { resolveHorizon } from "../places/resolve-horizon";
import { outingTideAt } from "../tides/outing-tide-at";

/** One evening or morning at a place; default today's. */
export interface OutingRequest
  extends Pick<CoreOutingRequest, "session" | "camera" | "filters" | "sky" | "targetShutterSeconds"> {
  readonly place: PlaceInput;
  readonly date?: string | undefined;
  readonly subject?: Omit<Subject, "horizon"> | undefined;
  readonly horizon?: HorizonInput | undefined;
  /** Id of a tide station, or `nearest`; default: no tide. */
  readonly tideStation?: string | undefined;
}

/** All that a plan takes, as plain data. */
export interface OutingInput {
  readonly request: CoreOutingRequest;
  /** Said before what the plan assumes itself. */
  readonly assumptions: readonly Assumption[];
}

/** Look up what a plan needs: zone, tide and terrain. */
export async function outingInput(dependencies: Dependencies, request: OutingRequest): Promise<OutingInput> {
  const { place, tideStation, ...rest } = request;
  const { timeZone, clock, assumptions } = placeTime(dependencies, place);
  const date = rest.date ?? clock.dateAt(dependencies.nowMs());
  // a day that cannot be is refused before any terrain is read
  addDays(date, 0);
  const tide = await outingTideAt(dependencies, tideStation, place, { date, timeZone, session: rest.session });
  const terrain = await resolveHorizon(dependencies, place, rest.horizon);
  return {
    request: {
      ...rest,
      place: { ...place, elevationM: place.elevationM ?? terrain.groundElevationM },
      date,
      timeZone,
      horizon: terrain.horizon,
      tide: tide?.tide,
      subject: await resolveSubject(dependencies, { place, subject: rest.subject, horizon: rest.horizon }),
    },
    assumptions: [...assumptions, ...terrain.assumptions, ...(tide?.assumptions ?? [])],
  };
}

/** Plan an outing, from plain data alone. Its numbers are not rounded. */
export function outing({ request, assumptions }: OutingInput): OutingPlan {
  const plan = planOuting(request);
  return { ...plan, assumptions: [...assumptions, ...plan.assumptions] };
}
