import { DomainError } from "@fieldstop/core/domain-error";
import { addDays, localDay, parseInstant, type ZoneClock, zoneClock } from "@fieldstop/core/instants";
import { findLightWindows } from "@fieldstop/core/light";
import type { Assumption } from "@fieldstop/core/notes";
import type { OutingTide, SessionInput } from "@fieldstop/core/outing";
import { type LightStretch, lightInTideWindow, tideCaution, tideWindows } from "@fieldstop/core/water";
import type { Dependencies } from "./dependencies";
import {
  type ChosenTideStation,
  FARTHEST_KM,
  nearestTideStation,
  type Position,
  tideDatum,
  tideStationById,
} from "./tide-station";

/** A tide station, or a place near one, and a span of time. */
export interface TidesRequest {
  readonly station?: string | undefined;
  readonly latitude?: number | undefined;
  readonly longitude?: number | undefined;
  readonly timeZone?: string | undefined;
  /** A local day; or first and last instant, RFC 3339; default today. */
  readonly date?: string | undefined;
  readonly from?: string | undefined;
  readonly to?: string | undefined;
  readonly datum?: string | undefined;
  /** For the windows in which the water is under or over it [m]. */
  readonly levelM?: number | undefined;
}

interface Span {
  readonly date?: string;
  readonly startMs: number;
  readonly endMs: number;
  readonly assumptions: readonly Assumption[];
}

const LONGEST_SPAN_MS = 31 * 86_400_000;
const MINUTE_MS = 60_000;

/** The tide that a request asks for. */
export async function tidesAt(dependencies: Dependencies, request: TidesRequest) {
  const chosen = await stationFor(dependencies, request);
  const { source, station } = chosen;
  const timeZone = request.timeZone ?? station.timeZone;
  const clock = zoneClock(timeZone);
  const span = spanOf(request, clock, dependencies.nowMs());
  const { startMs, endMs } = span;
  const { datum, assumptions: ofDatum } = tideDatum(station, request.datum);
  const { tide, restsOn } = await source.predict(station, datum, startMs, endMs);
  const { curve, extremes } = tide;
  const toSecond = (ms: number): string => clock.format(Math.round(ms / 1000) * 1000);
  const minutes = ({ startMs: from, endMs: to }: LightStretch): number => (to - from) / MINUTE_MS;
  const { levelM } = request;
  const place = { latitude: request.latitude ?? station.latitude, longitude: request.longitude ?? station.longitude };
  const light = levelM === undefined ? [] : lightOver(span, place, clock);
  return {
    station: { ...station, datums: [...station.datums] },
    ...(span.date === undefined ? {} : { date: span.date }),
    from: clock.format(startMs),
    to: clock.format(endMs),
    timeZone,
    datum,
    extremes: extremes.map(({ kind, instantMs, heightM }) => ({ kind, instant: toSecond(instantMs), heightM })),
    heights: curve.heightsM
      .map((heightM, i) => ({ instantMs: curve.startMs + i * curve.stepMs, heightM }))
      .filter(({ instantMs }) => instantMs >= startMs && instantMs <= endMs)
      .map(({ instantMs, heightM }) => ({ instant: clock.format(instantMs), heightM })),
    ...(levelM === undefined
      ? {}
      : {
          windows: tideWindows(curve, levelM, startMs, endMs).map((window) => ({
            water: window.water,
            start: toSecond(window.startMs),
            end: toSecond(window.endMs),
            minutes: minutes(window),
            light: lightInTideWindow(window, light).map((stretch) => ({
              kind: stretch.kind,
              part: stretch.part,
              start: toSecond(stretch.startMs),
              end: toSecond(stretch.endMs),
              minutes: minutes(stretch),
            })),
          })),
        }),
    assumptions: [
      ...chosen.assumptions,
      ...(request.timeZone === undefined ? [{ field: "timeZone", value: timeZone, why: "the station's" }] : []),
      ...span.assumptions,
      ...ofDatum,
      ...restsOn,
    ],
    cautions: [tideCaution()],
    attribution: station.attribution,
  };
}

function stationFor(
  dependencies: Dependencies,
  { station, latitude, longitude }: TidesRequest,
): Promise<ChosenTideStation> {
  if (station !== undefined) {
    const given = [latitude, longitude].some((value) => value !== undefined);
    if (given) throw clash("station", station, "a station, or a latitude and a longitude, not both");
    return tideStationById(dependencies, station, { field: "station", pointer: "query:station" });
  }
  if (latitude === undefined && longitude === undefined) {
    throw clash("station", undefined, "a station, or a latitude and a longitude");
  }
  if (latitude === undefined) throw clash("latitude", latitude, "a latitude with the longitude");
  if (longitude === undefined) throw clash("longitude", longitude, "a longitude with the latitude");
  return nearestTideStation(dependencies, { latitude, longitude }, { field: "station", pointer: "query:latitude" });
}

function spanOf({ date, from, to }: TidesRequest, clock: ZoneClock, nowMs: number): Span {
  if (from === undefined && to === undefined) {
    const today = clock.dateAt(nowMs);
    const { startMs, endMs } = localDay(date ?? today, clock.timeZone);
    const assumptions = date === undefined ? [{ field: "date", value: today, why: "today there" }] : [];
    return { date: date ?? today, startMs, endMs, assumptions };
  }
  if (date !== undefined) throw clash("date", date, "a date, or from and to, not both");
  if (from === undefined) throw clash("from", from, "from with to");
  if (to === undefined) throw clash("to", to, "to with from");
  const startMs = parseInstant(from, "from");
  const endMs = parseInstant(to, "to");
  if (!(endMs > startMs && endMs - startMs <= LONGEST_SPAN_MS)) {
    const allowed = "an instant after from, by at most 31 days";
    throw new DomainError({ code: "impossible", param: "to", given: to, allowed });
  }
  return { startMs, endMs, assumptions: [] };
}

function clash(param: string, given: unknown, allowed: string): DomainError {
  return new DomainError({ param, given, allowed });
}

interface LightOver extends LightStretch {
  readonly kind: "golden-hour" | "blue-hour";
  readonly part: "morning" | "evening";
}

/** The golden and blue hours of the days that a span touches. */
function lightOver(
  { startMs, endMs }: Span,
  place: { readonly latitude: number; readonly longitude: number },
  clock: ZoneClock,
): LightOver[] {
  const light: LightOver[] = [];
  const last = clock.dateAt(endMs - 1);
  for (let date = clock.dateAt(startMs); date <= last; date = addDays(date, 1)) {
    const { windows } = findLightWindows({ place, date, timeZone: clock.timeZone, horizon: { kind: "flat" } });
    for (const { kind, part, start, end } of windows) {
      if (kind !== "golden-hour" && kind !== "blue-hour") continue;
      light.push({ kind, part, startMs: Date.parse(start), endMs: Date.parse(end) });
    }
  }
  return light;
}

interface Day {
  readonly date: string;
  readonly timeZone: string;
  readonly session: SessionInput;
}

const DAY_MS = 86_400_000;
const ASKED_AS = { field: "tideStation", pointer: "/tideStation" };

/** The tide round an outing, from the requested station: the days on both sides too, as sessions reach past midnight. */
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
