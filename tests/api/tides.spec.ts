import { readConfig } from "@fieldstop/api/server/config";
import { nodeServices } from "@fieldstop/api/server/services";
import { stationDatabase } from "@fieldstop/api/tides/station-database";
import type { TideSource, TideStation } from "@fieldstop/operations";
import fc from "fast-check";
import { pino } from "pino";
import { describe, expect, it } from "vitest";
import { answer, get, NOW, post, problem, refusedFields, testApp } from "./harness";

const source = stationDatabase();
const app = testApp({ tides: source });
const without = testApp();

interface Station {
  readonly id: string;
  readonly name: string;
  readonly distanceKm?: number;
  readonly kind: string;
  readonly attribution: string;
  readonly licence: { readonly type: string; readonly url: string };
}

interface Window {
  readonly water: "under" | "over";
  readonly start: string;
  readonly end: string;
  readonly minutes: number;
  readonly light: readonly { readonly kind: string; readonly start: string; readonly end: string }[];
}

interface Tides {
  readonly station: Station;
  readonly date?: string;
  readonly from: string;
  readonly to: string;
  readonly timeZone: string;
  readonly datum: string;
  readonly extremes: readonly { readonly kind: "high" | "low"; readonly instant: string; readonly heightM: number }[];
  readonly heights: readonly { readonly instant: string; readonly heightM: number }[];
  readonly windows?: readonly Window[];
  readonly assumptions: readonly { readonly field: string; readonly value: unknown }[];
  readonly cautions: readonly { readonly code: string; readonly text: string }[];
  readonly attribution: string;
}

// Newlyn, on the south-west tip of Britain: a wide tide and a station of the licence that asks to be named
const newlyn = { latitude: 50.1, longitude: -5.55 };
const ardvane = { latitude: 56.6, longitude: -9.4 };
const southPacific = { latitude: -48.9, longitude: -123.4 };
const tides = (query: Record<string, string | number>) => answer<Tides>(get(app, "/v1/tides", query));

describe("GET /v1/tide-stations", () => {
  const path = "/v1/tide-stations";

  it("lists stations by distance, each with the credit that is to be shown", async () => {
    const { stations, nearestKm } = await answer<{ stations: Station[]; nearestKm: number }>(
      get(app, path, { ...newlyn, radiusKm: 150, limit: 3 }),
    );
    expect(stations).toHaveLength(3);
    expect(stations[0]?.name).toContain("Newlyn");
    const distances = stations.map(({ distanceKm }) => distanceKm as number);
    expect(distances).toEqual([...distances].sort((a, b) => a - b));
    expect(nearestKm).toBe(distances[0]);
    for (const { attribution, licence } of stations) {
      expect(attribution).toContain("https://");
      if (licence.type.startsWith("cc-by")) expect(attribution).toContain("Licensed CC BY 4.0");
    }
  });

  it("says how far the nearest is where none is in the radius", async () => {
    const body = await answer<{ stations: Station[]; nearestKm: number }>(get(app, path, ardvane));
    expect(body.stations).toEqual([]);
    expect(body.nearestKm).toBeGreaterThan(150);
    expect(body.nearestKm).toBeLessThan(250);
  });

  it("leaves out what may not be used commercially, by place as by id", async () => {
    // a station of the database whose licence is CC BY-NC, which a radius round it would otherwise hold
    const { stations: all } = await import("@neaps/tide-database");
    const withheld = all.filter(({ kind, license }) => kind === "tide" && !license.commercial_use);
    expect(withheld.length).toBeGreaterThan(200);
    for (const { id, latitude, longitude } of withheld.slice(0, 10)) {
      const body = await answer<{ stations: Station[] }>(get(app, path, { latitude, longitude, limit: 50 }));
      expect(body.stations.map((station) => station.id)).not.toContain(id);
      await problem(get(app, "/v1/tides", { station: id }), 404);
    }
  });

  it("leaves out stations that carry no constituents, whose water would stand still", async () => {
    const { stationsById } = await import("@neaps/tide-database");
    const empty = stationsById.get("chs-vancouver");
    expect(empty?.harmonic_constituents).toEqual([]);
    await problem(get(app, "/v1/tides", { station: "chs-vancouver" }), 404);
    const vancouver = await tides({ latitude: 49.287, longitude: -123.11, date: "2027-03-20" });
    const heights = vancouver.heights.map(({ heightM }) => heightM);
    expect(Math.max(...heights) - Math.min(...heights)).toBeGreaterThan(1);
  });

  it("offers no current stations", async () => {
    const body = await answer<{ stations: Station[] }>(get(app, path, { latitude: 48.4, longitude: -123, limit: 50 }));
    expect(body.stations).toHaveLength(50);
    const found = await Promise.all(body.stations.map(({ id }) => source.stationById(id)));
    const kinds = found.map((station) => station?.kind);
    expect(kinds).not.toContain(undefined);
  });

  it.each([
    [{ latitude: 91 }, "query:latitude"],
    [{ longitude: -181 }, "query:longitude"],
    [{ radiusKm: 501 }, "query:radiusKm"],
    [{ radiusKm: 0 }, "query:radiusKm"],
    [{ limit: 2.5 }, "query:limit"],
    [{ limit: 51 }, "query:limit"],
    [{ radius: 10 }, "query:radius"],
  ])("refuses %j by name", async (bad, pointer) => {
    const query: Record<string, string | number> = { ...newlyn };
    for (const [key, value] of Object.entries(bad)) query[key] = value;
    expect(await refusedFields(get(app, path, query))).toEqual([pointer]);
  });
});

describe("GET /v1/tides", () => {
  it("predicts a local day at the nearest station, and says what it rests on", async () => {
    const day = await tides({ ...newlyn, date: "2027-03-20" });
    expect(day.station.name).toContain("Newlyn");
    expect(day).toMatchObject({ date: "2027-03-20", timeZone: "Europe/London", attribution: day.station.attribution });
    expect(day.from).toBe("2027-03-20T00:00:00+00:00");
    expect(day.to).toBe("2027-03-21T00:00:00+00:00");
    expect(day.extremes.length).toBeGreaterThanOrEqual(3);
    for (const [i, { kind, heightM }] of day.extremes.entries()) {
      const next = day.extremes[i + 1];
      if (next === undefined) continue;
      expect(next.kind).not.toBe(kind);
      expect(next.heightM > heightM).toBe(next.kind === "high");
    }
    expect(day.heights).toHaveLength(145);
    expect(day.assumptions.map(({ field }) => field)).toEqual(["station", "timeZone", "datum"]);
    expect(day.cautions).toEqual([
      expect.objectContaining({ code: "tide-and-swell", text: expect.stringContaining("not for navigation") }),
    ]);
  });

  it("puts high and low water where its heights turn", async () => {
    const { extremes, heights } = await tides({ ...newlyn, date: "2027-03-20" });
    for (const { kind, instant, heightM } of extremes) {
      const near = heights.filter((row) => Math.abs(Date.parse(row.instant) - Date.parse(instant)) < 3_600_000);
      const values = near.map((row) => row.heightM);
      const best = kind === "high" ? Math.max(...values) : Math.min(...values);
      expect(Math.abs(best - heightM)).toBeLessThan(0.01);
    }
  });

  // mixed tides with long stands, at which the ripples of the curve are told apart by size
  it.each(["noaa/8725506", "noaa/8725685", "noaa/8723970"])("has high and low water in turn at %s", async (station) => {
    const { extremes, heights } = await tides({ station, from: "2027-01-01T00:00:00Z", to: "2027-02-01T00:00:00Z" });
    expect(extremes.length).toBeGreaterThan(45);
    for (const [i, { kind, heightM }] of extremes.entries()) {
      const before = extremes[i - 1];
      if (before === undefined) continue;
      expect(kind).not.toBe(before.kind);
      expect(heightM > before.heightM).toBe(kind === "high");
    }
    const highest = Math.max(...heights.map((row) => row.heightM));
    expect(Math.max(...extremes.map((row) => row.heightM))).toBeCloseTo(highest, 2);
  });

  it("holds a day of 25 hours, from one midnight to the next", async () => {
    const day = await tides({ ...newlyn, date: "2027-10-31" });
    expect(day.from).toBe("2027-10-31T00:00:00+01:00");
    expect(day.to).toBe("2027-11-01T00:00:00+00:00");
    expect(day.heights).toHaveLength(151);
  });

  it("takes today at the place where no day is given", async () => {
    const day = await tides(newlyn);
    expect(day.date).toBe(NOW.slice(0, 10));
    expect(day.assumptions).toContainEqual(expect.objectContaining({ field: "date", value: day.date }));
  });

  it("drops no high or low water at the ends of short spans", async () => {
    const station = (await tides(newlyn)).station.id;
    const long = await tides({ station, from: "2027-03-18T00:00:00Z", to: "2027-03-23T00:00:00Z" });
    const pieces = await Promise.all(
      Array.from({ length: 40 }, (_, i) => Date.parse("2027-03-18T00:00:00Z") + i * 3 * 3_600_000).map((ms) =>
        tides({ station, from: new Date(ms).toISOString(), to: new Date(ms + 3 * 3_600_000).toISOString() }),
      ),
    );
    const short = pieces.flatMap(({ extremes }) => extremes);
    expect(short.map(({ kind }) => kind)).toEqual(long.extremes.map(({ kind }) => kind));
    for (const [i, { instant }] of short.entries()) {
      expect(Math.abs(Date.parse(instant) - Date.parse(long.extremes[i]?.instant as string))).toBeLessThan(2000);
    }
  });

  it("tells when the water is under and over a level, and the light that falls there", async () => {
    const levelM = 2;
    const day = await tides({ ...newlyn, date: "2027-03-20", levelM });
    const windows = day.windows as readonly Window[];
    expect(windows.length).toBeGreaterThanOrEqual(3);
    expect(windows[0]?.start).toBe(day.from);
    expect(windows.at(-1)?.end).toBe(day.to);
    for (const [i, { water, start, end }] of windows.entries()) {
      const next = windows[i + 1];
      if (next !== undefined) {
        expect(next.start).toBe(end);
        expect(next.water).not.toBe(water);
      }
      const inside = day.heights.filter(
        ({ instant }) => Date.parse(instant) > Date.parse(start) && Date.parse(instant) < Date.parse(end),
      );
      for (const { heightM } of inside) expect(heightM > levelM).toBe(water === "over");
    }
    const minutes = windows.reduce((sum, window) => sum + window.minutes, 0);
    expect(minutes).toBeCloseTo(1440, 2);
    const light = await answer<{ windows: { kind: string; start: string; end: string }[] }>(
      get(app, "/v1/light-windows", { ...newlyn, date: "2027-03-20", horizon: "flat" }),
    );
    const total = (of: readonly { kind: string; start: string; end: string }[]): number =>
      of
        .filter(({ kind }) => kind === "golden-hour" || kind === "blue-hour")
        .reduce((sum, { start, end }) => sum + Date.parse(end) - Date.parse(start), 0);
    expect(total(light.windows)).toBeGreaterThan(2 * 3_600_000);
    expect(Math.abs(total(windows.flatMap((window) => window.light)) - total(light.windows))).toBeLessThan(5000);
    expect((await tides({ ...newlyn, date: "2027-03-20" })).windows).toBeUndefined();
  });

  it("counts from another datum by a fixed step", async () => {
    const chart = await tides({ ...newlyn, date: "2027-03-20" });
    const mean = await tides({ ...newlyn, date: "2027-03-20", datum: "MSL" });
    expect(mean.datum).toBe("MSL");
    expect(chart.datum).not.toBe("MSL");
    const steps = chart.heights.map(({ heightM }, i) => heightM - (mean.heights[i]?.heightM as number));
    expect(Math.max(...steps) - Math.min(...steps)).toBeLessThan(5e-6);
    expect(steps[0]).toBeGreaterThan(2);
    expect(mean.assumptions.map(({ field }) => field)).not.toContain("datum");
  });

  it("counts a subordinate station from its chart datum alone, and says that it borrows the shape of the curve", async () => {
    const day = await tides({ station: "noaa/8722951", date: "2017-01-01" });
    expect(day.station.kind).toBe("subordinate");
    expect(day.datum).toBe("MLLW");
    expect(day.assumptions.map(({ field }) => field)).toContain("shape");
    const refused = await problem(get(app, "/v1/tides", { station: "noaa/8722951", datum: "MSL" }), 422);
    expect(refused.errors).toEqual([
      expect.objectContaining({ pointer: "query:datum", allowed: expect.stringContaining("MLLW") }),
    ]);
  });

  it("says which constituents it cannot predict, and how much they come to", async () => {
    const day = await tides({ station: "kartverket/BOO", date: "2027-03-20" });
    // 0.1477 + 0.0072 + 0.0024 m of the year's and two smaller ones, and what else has no name in common
    const left = day.assumptions.find(({ field }) => field === "leftOutM");
    expect(left).toMatchObject({ why: expect.stringContaining("SA_KV") });
    expect(left?.value).toBeGreaterThan(0.157);
    expect(left?.value).toBeLessThan(0.17);
    const { assumptions } = await tides({ ...newlyn, date: "2027-03-20" });
    expect(assumptions.map(({ field }) => field)).not.toContain("leftOutM");
  });

  it("answers 31 days, no more", async () => {
    const station = "noaa/8722125";
    const month = await tides({ station, from: "2027-03-01T00:00:00Z", to: "2027-04-01T00:00:00Z", levelM: 0.1 });
    expect(month.heights).toHaveLength(31 * 144 + 1);
    expect(month.date).toBeUndefined();
    const long = get(app, "/v1/tides", { station, from: "2027-03-01T00:00:00Z", to: "2027-04-01T00:00:01Z" });
    expect(await refusedFields(long, 422)).toEqual(["query:to"]);
    const backwards = get(app, "/v1/tides", { station, from: "2027-03-02T00:00:00Z", to: "2027-03-01T00:00:00Z" });
    expect(await refusedFields(backwards, 422)).toEqual(["query:to"]);
  });

  it.each([
    ["the invented island", ardvane, 150, 250],
    ["the middle of the South Pacific", southPacific, 1500, 3500],
  ])("has no tide for %s, and says how far the nearest station is", async (_, place, least, most) => {
    const { detail, type, errors } = await problem(get(app, "/v1/tides", place), 404);
    expect(type).toBe("/problems/not-found");
    const km = Number(/ is (\d+) km away/.exec(detail)?.[1]);
    expect(km).toBeGreaterThan(least);
    expect(km).toBeLessThan(most);
    expect(errors?.[0]).toMatchObject({ pointer: "query:latitude", allowed: expect.stringContaining("100 km") });
  });

  it("knows no station by an id that there is not", async () => {
    const { errors, detail } = await problem(get(app, "/v1/tides", { station: "ardvane/strand" }), 404);
    expect(errors?.[0]).toMatchObject({ pointer: "query:station", received: "ardvane/strand" });
    expect(detail).toContain("/v1/tide-stations");
  });

  it.each([
    [{ ...newlyn, latitude: 91 }, 400, "query:latitude"],
    [{ latitude: 50.1 }, 400, "query:longitude"],
    [{ longitude: -5.5 }, 400, "query:latitude"],
    [{}, 400, "query:station"],
    [{ ...newlyn, station: "noaa/8722125" }, 400, "query:station"],
    [{ ...newlyn, levelM: 31 }, 400, "query:levelM"],
    [{ ...newlyn, levelM: "low" }, 400, "query:levelM"],
    [{ ...newlyn, date: "2027-02-30" }, 400, "query:date"],
    [{ ...newlyn, date: "2101-01-01" }, 422, "query:date"],
    [{ ...newlyn, date: "2027-03-20", from: "2027-03-20T00:00:00Z" }, 400, "query:date"],
    [{ ...newlyn, from: "2027-03-20T00:00:00Z" }, 400, "query:to"],
    [{ ...newlyn, to: "2027-03-20T00:00:00Z" }, 400, "query:from"],
    [{ ...newlyn, from: "2027-03-20", to: "2027-03-21T00:00:00Z" }, 400, "query:from"],
    [{ ...newlyn, timeZone: "Ardvane/Strand" }, 400, "query:timeZone"],
    [{ ...newlyn, datum: "GT" }, 422, "query:datum"],
    [{ ...newlyn, datum: "toString" }, 422, "query:datum"],
  ])("refuses %j by name", async (bad, status, pointer) => {
    const query = bad as Record<string, string | number>;
    expect(await refusedFields(get(app, "/v1/tides", query), status)).toEqual([pointer]);
  });

  it("cannot answer where the service runs without stations", async () => {
    await problem(get(without, "/v1/tides", newlyn), 503);
    await problem(get(without, "/v1/tide-stations", newlyn), 503);
  });

  it("answers a day, or the distance of the nearest station, anywhere and in any year", async () => {
    // one place in two off a coast that has stations, the others all over the globe
    const { stations } = await import("@neaps/tide-database");
    const offset = fc.integer({ min: -100, max: 100 }).map((hundredths) => hundredths / 100);
    const offCoast = fc.tuple(fc.integer({ min: 0, max: stations.length - 1 }), offset, offset).map(([i, dy, dx]) => {
      const { latitude = 0, longitude = 0 } = stations[i] ?? {};
      return {
        latitude: Math.max(-90, Math.min(90, latitude + dy)),
        longitude: Math.max(-180, Math.min(180, longitude + dx)),
      };
    });
    const onGlobe = fc.record({
      latitude: fc.double({ min: -90, max: 90, noNaN: true }),
      longitude: fc.double({ min: -180, max: 180, noNaN: true }),
    });
    const when = fc.record({
      date: fc
        .date({ min: new Date("1900-01-02"), max: new Date("2100-12-30"), noInvalidDate: true })
        .map((date) => date.toISOString().slice(0, 10)),
      levelM: fc.double({ min: -30, max: 30, noNaN: true }),
    });
    let answered = 0;
    await fc.assert(
      fc.asyncProperty(fc.oneof(offCoast, onGlobe), when, async (place, day) => {
        const query = { ...place, ...day };
        const response = await get(app, "/v1/tides", query);
        if (response.status !== 200) {
          expect((await problem(response, 404)).detail).toMatch(/ is \d+ km away/);
          return;
        }
        answered++;
        const predicted = await answer<Tides>(response);
        expect(predicted.heights.length).toBeGreaterThan(130);
        expect(predicted.windows?.length).toBeGreaterThan(0);
      }),
      { numRuns: 150, seed: 7 },
    );
    expect(answered).toBeGreaterThan(20);
  });

  it("answers the same from a thread of its own", async () => {
    const services = await nodeServices(readConfig({}), pino({ level: "silent" }));
    try {
      const inThread = services.tides as TideSource;
      const station = await inThread.nearestStation(newlyn);
      expect(station?.name).toContain("Newlyn");
      expect(station).toEqual(await source.nearestStation(newlyn));
      const { id } = station as TideStation;
      expect(await inThread.stationById(id, newlyn)).toEqual(await source.stationById(id, newlyn));
      expect(await inThread.stationById("nowhere")).toBeUndefined();
      expect(await inThread.stationsNear(newlyn, 100, 5)).toEqual(await source.stationsNear(newlyn, 100, 5));
      const [fromMs, toMs] = [Date.UTC(2027, 2, 20), Date.UTC(2027, 2, 21)];
      const predicted = await inThread.predict({ id }, "LAT", fromMs, toMs);
      expect(predicted).toEqual(await source.predict({ id }, "LAT", fromMs, toMs));
    } finally {
      await services.close();
    }
  });

  it("predicts at every kind of station: with other datums than a chart's, or with none", async () => {
    const { stations } = await import("@neaps/tide-database");
    const offered = await Promise.all(stations.map(({ id }) => source.stationById(id)));
    const every = stations.filter((_, i) => offered[i] !== undefined);
    const odd = every.filter(({ chart_datum, datums }) => chart_datum === "MSL" || !("MSL" in datums)).slice(0, 20);
    expect(odd.length).toBeGreaterThan(5);
    for (const { id } of [...odd, ...every.filter((_, i) => i % 97 === 0)]) {
      const day = await tides({ station: id, date: "2027-06-21", levelM: 0 });
      expect(day.heights.length, id).toBeGreaterThan(140);
    }
  });
});

describe("POST /v1/outings/plan, with a tide station", () => {
  interface Plan {
    readonly arriveBy: string;
    readonly stayUntil: string;
    readonly moments: readonly { readonly name: string; readonly instant: string }[];
    readonly tide?: {
      readonly station: { readonly id: string; readonly name: string; readonly distanceKm: number };
      readonly extremes: Tides["extremes"];
      readonly moments: readonly {
        readonly name: string;
        readonly instant: string;
        readonly heightM: number;
        readonly trend: string;
      }[];
      readonly attribution: string;
    };
    readonly assumptions: readonly { readonly field: string; readonly value: unknown }[];
  }
  const path = "/v1/outings/plan";
  const outing = {
    place: newlyn,
    date: "2027-03-20",
    session: "evening",
    horizon: { kind: "flat" },
    camera: { sensor: "full-frame", focalLengthMm: 24 },
    tideStation: "nearest",
  };

  it("has the tide of the nearest station over the session, as the tide alone is answered", async () => {
    const plan = await answer<Plan>(post(app, path, outing));
    const { tide } = plan;
    if (tide === undefined) throw new Error("no tide");
    expect(tide.station.name).toContain("Newlyn");
    expect(tide.attribution).toContain("https://");
    expect(plan.assumptions).toContainEqual(expect.objectContaining({ field: "tideStation", value: tide.station.id }));
    expect(tide.moments.map(({ name }) => name)).toEqual(plan.moments.map(({ name }) => name));
    const alone = await tides({
      station: tide.station.id,
      from: new Date(Date.parse(plan.arriveBy) - 6 * 3_600_000).toISOString(),
      to: new Date(Date.parse(plan.stayUntil) + 6 * 3_600_000).toISOString(),
    });
    expect(tide.extremes.map(({ kind }) => kind)).toEqual(alone.extremes.map(({ kind }) => kind));
    for (const [i, { instant, heightM }] of tide.extremes.entries()) {
      expect(Math.abs(Date.parse(instant) - Date.parse(alone.extremes[i]?.instant as string))).toBeLessThan(5000);
      expect(Math.abs(heightM - (alone.extremes[i]?.heightM as number))).toBeLessThan(0.002);
    }
    for (const { instant, heightM } of tide.moments) {
      const ms = Date.parse(instant);
      const near = alone.heights.filter((row) => Math.abs(Date.parse(row.instant) - ms) <= 600_000);
      const values = near.map((row) => row.heightM);
      expect(values.length).toBeGreaterThanOrEqual(2);
      expect(heightM).toBeGreaterThan(Math.min(...values) - 0.01);
      expect(heightM).toBeLessThan(Math.max(...values) + 0.01);
    }
  });

  it("takes a station by its id, and a session of one's own", async () => {
    const plan = await answer<Plan>(
      post(app, path, {
        ...outing,
        place: { latitude: 25.76, longitude: -80.12 },
        tideStation: "noaa/8723170",
        session: { from: "2027-03-21T20:00:00Z", to: "2027-03-22T10:00:00Z" },
      }),
    );
    expect(plan.tide?.station).toMatchObject({ id: "noaa/8723170" });
    expect(plan.tide?.station.distanceKm).toBeLessThan(5);
    expect(plan.assumptions.map(({ field }) => field)).not.toContain("tideStation");
  });

  it("has no tide where none was asked for", async () => {
    const { tideStation: _, ...plain } = outing;
    expect((await answer<Plan>(post(app, path, plain))).tide).toBeUndefined();
  });

  it("refuses a station far from the place, one that there is not, and a place far from all", async () => {
    const far = await problem(post(app, path, { ...outing, tideStation: "noaa/8723170" }), 422);
    expect(far.errors?.[0]).toMatchObject({
      pointer: "/tideStation",
      allowed: expect.stringMatching(/is \d{4} km away/),
    });
    const unknown = await problem(post(app, path, { ...outing, tideStation: "ardvane/strand" }), 404);
    expect(unknown.errors?.[0]?.pointer).toBe("/tideStation");
    const nowhere = await problem(post(app, path, { ...outing, place: ardvane }), 404);
    expect(nowhere.detail).toMatch(/is \d{3} km away/);
    expect(nowhere.errors?.[0]?.pointer).toBe("/tideStation");
    await problem(post(without, path, outing), 503);
  });

  it.each([
    [{ tideStation: "" }, 400, "/tideStation"],
    [{ tideStation: 8723170 }, 400, "/tideStation"],
    [{ session: { from: "1950-01-01T00:00:00Z", to: "2050-01-01T00:00:00Z" } }, 422, "/session/to"],
    [{ session: { from: "2027-03-20T20:00:00Z", to: "2027-03-20T18:00:00Z" } }, 422, "/session/to"],
    [{ session: { from: "evening", to: "2027-03-20T18:00:00Z" } }, 400, "/session/from"],
  ])("refuses %j by name", async (bad, status, pointer) => {
    expect(await refusedFields(post(app, path, { ...outing, ...bad }), status)).toEqual([pointer]);
  });
});
