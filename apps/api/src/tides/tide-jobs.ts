import type { Position, TideSource } from "@fieldstop/operations";

let loaded: Promise<TideSource> | undefined;

/** The stations, loaded by the first who asks for them: most never do. */
function source(): Promise<TideSource> {
  loaded ??= import("./station-database").then(({ stationDatabase }) => stationDatabase());
  return loaded;
}

/** What is done where the tide stations are: plain data in and out. */
export const tideJobs = {
  tideStationById: async ({ id, from }: { readonly id: string; readonly from?: Position | undefined }) =>
    (await source()).stationById(id, from),
  tideStationsNear: async ({ place, radiusKm, most }: StationsNear) =>
    (await source()).stationsNear(place, radiusKm, most),
  nearestTideStation: async (place: Position) => (await source()).nearestStation(place),
  predictTide: async ({ id, datum, startMs, endMs }: TideSpan) =>
    (await source()).predict({ id }, datum, startMs, endMs),
};

interface StationsNear {
  readonly place: Position;
  readonly radiusKm: number;
  readonly most: number;
}

interface TideSpan {
  readonly id: string;
  readonly datum: string;
  readonly startMs: number;
  readonly endMs: number;
}
