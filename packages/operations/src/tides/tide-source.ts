import type { Assumption } from "@fieldstop/core/notes";
import type { TidePrediction } from "@fieldstop/core/water";

/** A place whose tide is known from its harmonic constituents, or by its differences from such a place. */
export interface TideStation {
  readonly id: string;
  readonly name: string;
  readonly latitude: number;
  readonly longitude: number;
  /** IANA name. */
  readonly timeZone: string;
  readonly kind: "reference" | "subordinate";
  /** What heights are counted from where nothing else is asked. */
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

/** Stations, and the tide at each. They may be in a thread of their own, so that reading and reckoning them holds nobody up. */
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
