import { type Assumption, alternatingExtremes, type TideExtreme } from "@fieldstop/core";
import type { TideSource, TideStation, TideStationNearby } from "@fieldstop/operations";
import { near, nearest, type Station, stations } from "@neaps/tide-database";
import { createTidePredictor, constituents as models } from "@neaps/tide-predictor";

const HOUR_MS = 3_600_000;
const STEP_MS = 600_000;
// extremes at the ends of a span are told from ripples by their neighbours: without these they are lost, or invented
const MARGIN_MS = 72 * HOUR_MS;
// members of the datums that are ranges, inequalities and intervals, not levels
const NOT_LEVELS = new Set(["GT", "MN", "DHQ", "DLQ", "HWI", "LWI", "CRD_OFFSET"]);
const MEAN_SEA_LEVEL = "MSL";

/** A station whose data anyone may use, commercially too, and that has any: some carry no constituents, and would stand still. */
function usable({ kind, license, harmonic_constituents }: Station): boolean {
  return kind === "tide" && license.commercial_use && harmonic_constituents.some(({ amplitude }) => amplitude > 0);
}

/** The tide stations of the world, from the package's database; loading it takes half a second and 100 MB. */
export function stationDatabase(): TideSource {
  const byId = new Map(stations.filter(usable).map((station) => [station.id, station]));
  const offered = ({ id }: Station): boolean => byId.has(id);
  return {
    stationById: async (id, from) => {
      const station = byId.get(id);
      if (station === undefined || from === undefined) return station && described(station);
      const found = nearest({ ...from, filter: (one) => one.id === id });
      return found === null ? undefined : nearby(found);
    },
    stationsNear: async ({ latitude, longitude }, radiusKm, most) =>
      near({ latitude, longitude, maxDistance: radiusKm, maxResults: most, filter: offered }).map(nearby),
    nearestStation: async ({ latitude, longitude }) => {
      const found = nearest({ latitude, longitude, filter: offered });
      return found === null ? undefined : nearby(found);
    },
    predict: async ({ id }, datum, startMs, endMs) => {
      const station = byId.get(id) as Station;
      const { offsets, harmonic_constituents: constituents } = station;
      const predictor = createTidePredictor(constituents, { offset: offsetOf(station, datum) });
      const span = (marginMs: number) => ({
        start: new Date(Math.floor((startMs - marginMs) / STEP_MS) * STEP_MS),
        end: new Date(Math.ceil((endMs + marginMs) / STEP_MS) * STEP_MS),
        ...(offsets === undefined ? {} : { offsets }),
      });
      const extremes = predictor
        .getExtremesPrediction(span(MARGIN_MS))
        .map(({ high, time, level }): TideExtreme => {
          return { kind: high ? "high" : "low", instantMs: time.getTime(), heightM: level };
        })
        .sort((a, b) => a.instantMs - b.instantMs);
      const timeline = predictor.getTimelinePrediction({ ...span(2 * STEP_MS), timeFidelity: STEP_MS / 1000 });
      const firstMs = (timeline[0] as (typeof timeline)[number]).time.getTime();
      const curve = { startMs: firstMs, stepMs: STEP_MS, heightsM: timeline.map(({ level }) => level) };
      const within = ({ instantMs }: TideExtreme): boolean => instantMs >= startMs && instantMs <= endMs;
      const tide = { curve, extremes: alternatingExtremes(extremes).filter(within) };
      return { tide, restsOn: restsOn(station) };
    },
  };
}

function nearby([station, distanceKm]: readonly [Station, number]): TideStationNearby {
  return { ...described(station), distanceKm };
}

function described(station: Station): TideStation {
  const { id, name, latitude, longitude, timezone, type, attribution, license, chart_datum } = station;
  const levels = MEAN_SEA_LEVEL in station.datums ? Object.keys(station.datums) : [MEAN_SEA_LEVEL];
  const chartDatum = chart_datum !== undefined && levels.includes(chart_datum) ? chart_datum : MEAN_SEA_LEVEL;
  return {
    id,
    name,
    latitude,
    longitude,
    timeZone: timezone,
    kind: type,
    chartDatum,
    // a subordinate station's heights are factors of its reference's heights above chart datum; its own other levels are not known
    datums: type === "subordinate" ? [chartDatum] : levels.filter((level) => !NOT_LEVELS.has(level)),
    attribution,
    licence: { type: license.type, url: license.url },
  };
}

/** Mean sea level, which constituents are counted from, above the datum [m]. */
function offsetOf({ datums }: Station, datum: string): number {
  const mean = datums[MEAN_SEA_LEVEL];
  return mean === undefined ? 0 : mean - (datums[datum] as number);
}

function restsOn({ type, harmonic_constituents }: Station): Assumption[] {
  const assumptions: Assumption[] = [];
  if (type === "subordinate") {
    const why = "between high and low water it is taken to rise and fall as its reference station does";
    assumptions.push({ field: "shape", value: "as the reference station", why });
  }
  // some offices publish constituents by definitions of their own, which the predictor does not have
  const unknown = harmonic_constituents.filter(({ name, amplitude }) => amplitude > 0 && models[name] === undefined);
  if (unknown.length > 0) {
    const metres = unknown.reduce((sum, { amplitude }) => sum + amplitude, 0);
    const why = `heights leave out ${unknown.map(({ name }) => name).join(", ")}, mostly the swing of the year: up to ${metres.toFixed(2)} m`;
    assumptions.push({ field: "leftOutM", value: Number(metres.toFixed(3)), why });
  }
  return assumptions;
}
