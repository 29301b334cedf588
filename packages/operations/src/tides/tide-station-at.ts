import { DomainError } from "@fieldstop/core/domain-error";
import type { Assumption } from "@fieldstop/core/notes";
import type { Dependencies } from "../dependencies";
import { Refusal } from "../problems/refusal";
import type { Position, TideSource, TideStation } from "./tide-source";

/** How far from a place its tide may be taken [km]: a stretch of coast, no more. */
export const FARTHEST_KM = 100;

export interface ChosenTideStation {
  readonly source: TideSource;
  readonly station: TideStation & { readonly distanceKm?: number };
  readonly assumptions: readonly Assumption[];
}

/** The service's tide stations. */
export function tideSourceOf(dependencies: Dependencies): TideSource {
  if (dependencies.tides === undefined) {
    throw new Refusal("unavailable", "This service runs without tide stations.");
  }
  return dependencies.tides;
}

/** Which field asks for the station: its name in an assumption, and where an error points. */
export interface RequestedAs {
  readonly field: string;
  readonly pointer: string;
}

/** The station with an id, with its distance where a place is given. */
export async function tideStationById(
  dependencies: Dependencies,
  id: string,
  { pointer }: RequestedAs,
  from?: Position,
): Promise<ChosenTideStation> {
  const source = tideSourceOf(dependencies);
  const station = await source.stationById(id, from);
  if (station === undefined) {
    const detail = `There is no tide station ${JSON.stringify(id)} here; /v1/tide-stations lists those near a place. Stations whose data may not be used commercially are left out.`;
    throw new Refusal("not-found", detail, [{ pointer, detail, received: id }]);
  }
  return { source, station, assumptions: [] };
}

/** The station nearest to a place, if it is near enough to say anything about it. */
export async function nearestTideStation(
  dependencies: Dependencies,
  place: Position,
  { field, pointer }: RequestedAs,
): Promise<ChosenTideStation> {
  const source = tideSourceOf(dependencies);
  const station = await source.nearestStation(place);
  if (station === undefined || station.distanceKm > FARTHEST_KM) {
    const allowed = `a place within ${FARTHEST_KM} km of a tide station`;
    const nearest =
      station === undefined
        ? "there is none"
        : `the nearest, ${station.name} (${station.id}), is ${Math.round(station.distanceKm)} km away`;
    const detail = `No tide station is within ${FARTHEST_KM} km of this place: ${nearest}.`;
    throw new Refusal("not-found", detail, [{ pointer, detail, allowed }]);
  }
  const why = `the nearest station, ${Math.round(station.distanceKm)} km from the place`;
  return { source, station, assumptions: [{ field, value: station.id, why }] };
}

/** The datum that heights are counted from. */
export function tideDatum(
  station: TideStation,
  request: string | undefined,
): { readonly datum: string; readonly assumptions: readonly Assumption[] } {
  if (request === undefined) {
    const datum = station.chartDatum;
    return { datum, assumptions: [{ field: "datum", value: datum, why: "the station's chart datum" }] };
  }
  if (!station.datums.includes(request)) {
    const allowed = `one of the station's datums: ${station.datums.join(", ")}`;
    throw new DomainError({ code: "impossible", param: "datum", given: request, allowed });
  }
  return { datum: request, assumptions: [] };
}
