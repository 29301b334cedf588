import { DomainError } from "@fieldstop/core/domain-error";
import { localDay, parseInstant } from "@fieldstop/core/instants";
import type { Assumption } from "@fieldstop/core/notes";
import type { OutingTide, SessionInput } from "@fieldstop/core/outing";
import type { Dependencies } from "../dependencies";
import type { Position } from "./tide-source";
import { FARTHEST_KM, nearestTideStation, tideDatum, tideStationById } from "./tide-station-at";

interface Day {
  readonly date: string;
  readonly timeZone: string;
  readonly session: SessionInput;
}

const DAY_MS = 86_400_000;
const ASKED_AS = { field: "tideStation", pointer: "/tideStation" };

/** The tide round an outing, from the station that is asked for: the days on both sides too, as sessions reach past midnight. */
export async function outingTideAt(
  dependencies: Dependencies,
  tideStation: string | undefined,
  { latitude, longitude }: Position,
  { date, timeZone, session }: Day,
): Promise<{ readonly tide: OutingTide; readonly assumptions: readonly Assumption[] } | undefined> {
  if (tideStation === undefined) return undefined;
  const place = { latitude, longitude };
  const { source, station, assumptions } =
    tideStation === "nearest"
      ? await nearestTideStation(dependencies, place, ASKED_AS)
      : await tideStationById(dependencies, tideStation, ASKED_AS, place);
  const { id, name, distanceKm = 0 } = station;
  if (distanceKm > FARTHEST_KM) {
    const allowed = `a station within ${FARTHEST_KM} km of the place; this one is ${Math.round(distanceKm)} km away`;
    throw new DomainError({ code: "impossible", param: "tideStation", given: tideStation, allowed });
  }
  const { startMs, endMs } =
    typeof session === "string"
      ? localDay(date, timeZone)
      : { startMs: parseInstant(session.from, "session.from"), endMs: parseInstant(session.to, "session.to") };
  // a span that core will refuse is no reason to predict for years
  if (!(endMs > startMs && endMs - startMs <= 2 * DAY_MS)) return undefined;
  const { datum, assumptions: ofDatum } = tideDatum(station, undefined);
  const predicted = await source.predict(station, datum, startMs - DAY_MS, endMs + DAY_MS);
  return {
    tide: {
      ...predicted.tide,
      station: { id, name, latitude: station.latitude, longitude: station.longitude, distanceKm },
      datum,
      attribution: station.attribution,
    },
    assumptions: [...assumptions, ...ofDatum, ...predicted.restsOn],
  };
}
