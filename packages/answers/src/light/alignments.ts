import { type AlignmentRequest, findAlignmentsStepwise, type Horizon } from "@fieldstop/core/light";
import { inSlices } from "@fieldstop/core/stepwise";
import { othersTurn } from "../others-turn";
import type { AskedHorizon } from "../places/asked-horizon";
import type { AskedPlace } from "../places/asked-place";
import { placeTime } from "../places/place-time";
import { resolveHorizon } from "../places/resolve-horizon";
import { rounded } from "../rounding";
import type { Surroundings } from "../surroundings";

/** Days searched at one go: a millisecond or two. */
const DAYS_AT_A_TIME = 120;

/** Where sun or moon is wanted, and in which days. */
export interface AlignmentsAsked
  extends Omit<AlignmentRequest, "place" | "timeZone" | "profile" | "sunAltitudeDeg" | "illuminatedFraction"> {
  readonly place: AskedPlace;
  readonly horizon?: AskedHorizon | undefined;
  /** Only while the sun stands between these two true altitudes [deg]. */
  readonly sunAltitudeDeg?: readonly number[] | undefined;
  /** Only while this part of the moon is lit, least and most, 0 to 1. */
  readonly illuminatedFraction?: readonly number[] | undefined;
}

/** When sun or moon stands where it is wanted. */
export async function findAlignments(surroundings: Surroundings, request: AlignmentsAsked) {
  const { place, horizon: asked, sunAltitudeDeg, illuminatedFraction, ...search } = request;
  const { timeZone, assumptions } = placeTime(surroundings, place);
  const terrain =
    search.target.kind === "skyline"
      ? await resolveHorizon(surroundings, place, asked)
      : { horizon: { kind: "flat" } as Horizon, assumptions: [] };
  const profile = terrain.horizon.kind === "flat" ? undefined : terrain.horizon.profile;
  const complete: AlignmentRequest = {
    ...search,
    place,
    timeZone,
    profile,
    sunAltitudeDeg: sunAltitudeDeg as AlignmentRequest["sunAltitudeDeg"],
    illuminatedFraction: illuminatedFraction as AlignmentRequest["illuminatedFraction"],
  };
  const { longWork, signal } = surroundings;
  const found = await (longWork?.findAlignments(complete, signal) ??
    inSlices(findAlignmentsStepwise(complete), DAYS_AT_A_TIME, () => othersTurn(signal)));
  return rounded({ ...found, assumptions: [...assumptions, ...terrain.assumptions, ...found.assumptions] });
}
