import { type AlignmentRequest, findAlignments as findInSky, type Horizon } from "@fieldstop/core/light";
import type { Assumption } from "@fieldstop/core/notes";
import type { Dependencies } from "./dependencies";
import { type HorizonInput, resolveHorizon } from "./horizon";
import { type PlaceInput, placeTime } from "./place";
import { rounded } from "./rounding";

/** Where sun or moon is wanted, and in which days. */
export interface AlignmentsRequest
  extends Omit<AlignmentRequest, "place" | "timeZone" | "profile" | "sunAltitudeDeg" | "illuminatedFraction"> {
  readonly place: PlaceInput;
  readonly horizon?: HorizonInput | undefined;
  /** Only while the sun stands between these two true altitudes [deg]. */
  readonly sunAltitudeDeg?: readonly number[] | undefined;
  /** Only while this part of the moon is lit, least and most, 0 to 1. */
  readonly illuminatedFraction?: readonly number[] | undefined;
}

/** All that a search takes, as plain data. */
export interface AlignmentsInput {
  readonly request: AlignmentRequest;
  /** Said before what the search assumes itself. */
  readonly assumptions: readonly Assumption[];
}

/** Look up what a search needs: the zone of the place and, for a target on the skyline, the skyline. */
export async function alignmentsInput(
  dependencies: Dependencies,
  request: AlignmentsRequest,
): Promise<AlignmentsInput> {
  const { place, horizon: horizonInput, sunAltitudeDeg, illuminatedFraction, ...search } = request;
  const { timeZone, assumptions } = placeTime(dependencies, place);
  const terrain =
    search.target.kind === "skyline"
      ? await resolveHorizon(dependencies, place, horizonInput)
      : { horizon: { kind: "flat" } as Horizon, assumptions: [] };
  return {
    request: {
      ...search,
      place,
      timeZone,
      profile: terrain.horizon.kind === "flat" ? undefined : terrain.horizon.profile,
      sunAltitudeDeg: sunAltitudeDeg as AlignmentRequest["sunAltitudeDeg"],
      illuminatedFraction: illuminatedFraction as AlignmentRequest["illuminatedFraction"],
    },
    assumptions: [...assumptions, ...terrain.assumptions],
  };
}

/** Find when sun or moon stands where it is wanted, from plain data alone. */
export function alignments({ request, assumptions }: AlignmentsInput) {
  const found = findInSky(request);
  return rounded({ ...found, assumptions: [...assumptions, ...found.assumptions] });
}

/** When sun or moon stands where it is wanted. */
export async function findAlignments(dependencies: Dependencies, request: AlignmentsRequest) {
  return alignments(await alignmentsInput(dependencies, request));
}
