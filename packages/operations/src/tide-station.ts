import { DomainError } from "@fieldstop/core/domain-error";
import type { Assumption } from "@fieldstop/core/notes";
import type { TidePrediction } from "@fieldstop/core/water";
import type { Dependencies } from "./dependencies";
import { Refusal } from "./problems";

/** A place whose tide is known from its harmonic constituents, or by its differences from such a place. */
export interface TideStation {
  readonly id: string;
  readonly name: string;
  readonly latitude: number;
  readonly longitude: number;
  /** IANA name. */
  readonly timeZone: string;
  readonly kind: "reference" | "subordinate";
  /** Default datum: what heights are counted from. */
  readonly chartDatum: string;
  /** What heights can be counted from. */
  readonly datums: readonly string[];
  /** To be shown with whatever is taken from the station. */
  readonly attribution: string;
  readonly licence: { readonly type: string; readonly url: string };
}

export interface TideStationNearby extends TideStation {
  readonly distanceKm: number;
}

export interface Position {
  readonly latitude: number;
  readonly longitude: number;
}

/** The tide at a station, and what its prediction takes for granted. */
export interface PredictedTide {
  readonly tide: TidePrediction;
  readonly restsOn: readonly Assumption[];
}

/** Stations, and the tide at each. They may live in a thread of their own, so that predictions do not block the caller. */
export interface TideSource {
  /** A station by its id, with its distance where a place is given to take it from. */
  stationById(id: string, from?: Position): Promise<(TideStation & { readonly distanceKm?: number }) | undefined>;
  /** The stations within a radius, nearest first. */
  stationsNear(place: Position, radiusKm: number, most: number): Promise<TideStationNearby[]>;
  /** The nearest station, however far. */
  nearestStation(place: Position): Promise<TideStationNearby | undefined>;
  /** High and low waters from `startMs` to `endMs`, and heights each 10 min, by whole tens of minutes of UTC, that reach past both ends. */
  predict(station: Pick<TideStation, "id">, datum: string, startMs: number, endMs: number): Promise<PredictedTide>;
}

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
