import type { LightWindows } from "@fieldstop/core";
import { type Terrain, type TerrainHorizon, TileError } from "@fieldstop/terrain";
import { describe, expect, it } from "vitest";
import { answer, get, NOW, post, problem, refusedFields, testApp } from "./harness";

const app = testApp();
const PATH = "/v1/light-windows";
const strand = { latitude: 56.6, longitude: -9.4 };
const place = { ...strand, timeZone: "Etc/UTC" };
const spring = { place, date: "2027-03-20" };
const western = [
  { azimuthDeg: 330, altitudeDeg: 0 },
  { azimuthDeg: 200, altitudeDeg: 0 },
  { azimuthDeg: 230, altitudeDeg: 6 },
  { azimuthDeg: 300, altitudeDeg: 6 },
];
const ridge = { kind: "profile", points: western };

const instantOf = ({ events }: LightWindows, wanted: string): string | undefined =>
  events.find(({ name }) => name === wanted)?.instant;

/** Terrain whose skyline is a wall all round, as high [deg] as it is told for each latitude. */
function walls(altitudeDegAt: (latitude: number) => number | null, asked: unknown[] = []): Terrain {
  const horizonAt: Terrain["horizonAt"] = (viewpoint) => {
    asked.push(viewpoint);
    const altitudeDeg = altitudeDegAt(viewpoint.latitude);
    if (altitudeDeg === null) return Promise.resolve(null);
    const horizon: TerrainHorizon = {
      profile: { azimuthsDeg: [0, 180], altitudesDeg: [altitudeDeg, altitudeDeg], distancesM: [900, 900] },
      viewpoint: { ...strand, groundElevationM: 12, eyeHeightM: 1.6 },
      skyViewFactor: 1,
      source: { name: "walls", resolutionM: 30, attribution: "Ardvane survey" },
      missingTiles: [{ name: "N56W011", reason: "absent", azimuthsDeg: [[250, 290]] }],
      uncertainAzimuthsDeg: [[250, 290]],
      refractionCoefficient: 0.13,
    };
    return Promise.resolve(horizon);
  };
  return {
    dataVersion: "1",
    highestNear: async () => null,
    groundElevationM: () => Promise.resolve(12),
    groundElevationsM: async () => [],
    horizonAt,
  };
}

describe("GET /v1/light-windows", () => {
  it("answers a day, with what it takes for granted", async () => {
    const light = await answer<LightWindows>(get(app, PATH, { ...place, date: "2027-03-20" }));
    expect(light).toMatchObject({ date: "2027-03-20", timeZone: "Etc/UTC", polar: "none", horizon: { kind: "flat" } });
    expect(light.directLight.firstInstant).toBe(instantOf(light, "sunrise"));
    expect(light.directLight.lastInstant).toBe(instantOf(light, "sunset"));
    expect(light.windows.map(({ kind }) => kind)).toContain("blue-hour");
    expect(light.assumptions).toContainEqual(expect.objectContaining({ field: "horizon", value: "flat" }));
    expect(light.cautions).toContainEqual(expect.objectContaining({ code: "sun-through-optics" }));
    expect(light).not.toHaveProperty("subjectLight");
  });

  it("takes today at the place, in its zone, and says that it looked it up", async () => {
    const light = await answer<LightWindows>(get(app, PATH, strand));
    expect(light.date).toBe(NOW.slice(0, 10));
    expect(light.assumptions).toContainEqual(expect.objectContaining({ field: "timeZone", value: light.timeZone }));
    const tomorrowThere = await answer<LightWindows>(get(app, PATH, { latitude: -36.9, longitude: 174.8 }));
    expect(tomorrowThere.date).toBe("2027-03-21");
  });

  it.each(["light-windows", "light-windows.svg", "light-windows.ics"])(
    "tells in which language its words are: %s",
    async (form) => {
      for (const lang of ["en", "xx", "de-AT"]) {
        const response = await get(testApp(), `/v1/${form}`, { latitude: 56.6, longitude: -9.4, lang });
        expect(response.status).toBe(200);
        expect(response.headers.get("Content-Language")).toBe("en");
      }
    },
  );

  it("reckons with the terrain that there is, and without on request", async () => {
    const withWalls = testApp({ terrain: walls(() => 10) });
    const light = await answer<LightWindows>(get(withWalls, PATH, { ...place, date: "2027-03-20" }));
    expect(light.horizon).toEqual({
      kind: "terrain",
      source: "Ardvane survey",
      missingTiles: [{ name: "N56W011", reason: "absent", azimuthsDeg: [[250, 290]] }],
    });
    expect(light.place.elevationM).toBe(12);
    expect(light.directLight.minutesLostToTerrain).toBeGreaterThan(120);
    expect(light.directLight.intervals).toMatchObject([{ startCause: "terrain", endCause: "terrain" }]);
    const flat = await answer<LightWindows>(get(withWalls, PATH, { ...place, date: "2027-03-20", horizon: "flat" }));
    expect(flat.horizon).toEqual({ kind: "flat" });
    expect(flat.directLight.minutesLostToTerrain).toBe(0);
  });

  it("answers without terrain where none covers the place, or its tile is bad, and says so", async () => {
    const broken: Terrain = {
      ...walls(() => null),
      horizonAt: () => Promise.reject(new TileError("N56W010.hgt", "10 bytes of heights")),
    };
    for (const terrain of [walls(() => null), broken]) {
      const light = await answer<LightWindows>(get(testApp({ terrain }), PATH, { ...place, date: "2027-03-20" }));
      expect(light.horizon.kind).toBe("flat");
      expect(light.assumptions).toContainEqual(expect.objectContaining({ field: "horizon", value: "flat" }));
      expect(light.directLight.minutesLostToTerrain).toBe(0);
    }
  });

  it.each([
    [{ latitude: 91 }, "query:latitude"],
    [{ latitude: "NaN" }, "query:latitude"],
    [{ longitude: "Infinity" }, "query:longitude"],
    [{ longitude: "-Infinity" }, "query:longitude"],
    [{ eyeHeightM: "" }, "query:eyeHeightM"],
    [{ eyeHeightM: 0.1 }, "query:eyeHeightM"],
    [{ elevationM: 9001 }, "query:elevationM"],
    [{ date: "2027-02-30" }, "query:date"],
    [{ date: "today" }, "query:date"],
    [{ timeZone: "Ardvane/Strand" }, "query:timeZone"],
    [{ horizon: "profile" }, "query:horizon"],
    [{ aperture: 8 }, "query:aperture"],
  ])("refuses %j by name", async (bad, pointer) => {
    const query = { ...place, date: "2027-03-20", ...(bad as Record<string, string | number>) };
    expect(await refusedFields(get(app, PATH, query))).toContain(pointer);
  });

  it.each(["1850-06-01", "2101-01-01"])("understands %s, and has no answer", async (date) => {
    const { type, errors } = await problem(get(app, PATH, { ...place, date }), 422);
    expect(type).toBe("/problems/impossible");
    expect(errors?.[0]).toMatchObject({ pointer: "query:date", allowed: "years 1900 to 2100" });
  });

  it("has no answer for a day that the zone left out", async () => {
    const apia = { latitude: -13.8, longitude: -171.8, timeZone: "Pacific/Apia", date: "2011-12-30" };
    expect(await refusedFields(get(app, PATH, apia), 422)).toEqual(["query:date"]);
  });

  it("refuses an impossible day before any terrain is read", async () => {
    const asked: unknown[] = [];
    const withWalls = testApp({ terrain: walls(() => 10, asked) });
    await problem(get(withWalls, PATH, { ...place, date: "2027-02-30" }), 400);
    await problem(get(withWalls, PATH, { ...place, date: "1850-06-01" }), 422);
    expect(asked).toEqual([]);
  });
});

describe("POST /v1/light-windows", () => {
  it("says the same as GET", async () => {
    const byQuery = await answer(get(app, PATH, { ...place, name: "The strand", date: "2027-03-20", eyeHeightM: 3 }));
    const body = { place: { ...place, name: "The strand", eyeHeightM: 3 }, date: "2027-03-20" };
    expect(await answer(post(app, PATH, body))).toEqual(byQuery);
  });

  it("takes the sun early behind a skyline read by compass, in any order", async () => {
    const light = await answer<LightWindows>(post(app, PATH, { ...spring, horizon: ridge }));
    const lastMs = Date.parse(light.directLight.lastInstant ?? "");
    const earlyMinutes = (Date.parse(instantOf(light, "sunset") ?? "") - lastMs) / 60_000;
    expect(earlyMinutes).toBeGreaterThan(38);
    expect(earlyMinutes).toBeLessThan(52);
    expect(light.directLight.intervals.at(-1)).toMatchObject({ endCause: "terrain" });
    expect(light.horizon).toEqual({ kind: "profile", source: "given with the request" });
    const inOrder = [...western].sort((a, b) => a.azimuthDeg - b.azimuthDeg);
    const again = await answer(post(app, PATH, { ...spring, horizon: { kind: "profile", points: inOrder } }));
    expect(again).toEqual(light);
  });

  it("lights a subject where it looks", async () => {
    const light = await answer<LightWindows>(post(app, PATH, { ...spring, subject: { facingAzimuthDeg: 290 } }));
    expect(light.subjectLight?.intervals).toMatchObject([{ startCause: "facing", endCause: "horizon" }]);
    expect(light.subjectLight?.intervals[0]?.startAzimuthDeg).toBeCloseTo(200, 3);
    expect(light.assumptions).toContainEqual(expect.objectContaining({ field: "subject.slopeDeg", value: 90 }));
  });

  it("looks up the skyline of a subject that stands elsewhere", async () => {
    const asked: unknown[] = [];
    const withWalls = testApp({ terrain: walls((latitude) => (latitude > 56.65 ? 20 : 5), asked) });
    const subject = { latitude: 56.7, longitude: -9.1 };
    const light = await answer<LightWindows>(post(withWalls, PATH, { ...spring, subject }));
    expect(asked).toMatchObject([strand, subject]);
    expect(light.subjectLight?.minutesLostToTerrain).toBeGreaterThan(light.directLight.minutesLostToTerrain + 120);
  });

  it("says what the skyline of a subject elsewhere rests on", async () => {
    const subject = { latitude: 56.7, longitude: -9.1 };
    const said = async (terrain: Terrain) => {
      const light = await answer<LightWindows>(post(testApp({ terrain }), PATH, { ...spring, subject }));
      return light.assumptions.filter(({ field }) => field === "subject.horizon");
    };
    expect(await said(walls(() => 5))).toMatchObject([{ value: "terrain", why: "without the tiles N56W011" }]);
    expect(await said(walls((latitude) => (latitude > 56.65 ? null : 5)))).toMatchObject([
      { value: "flat", why: "no elevation data covers this place" },
    ]);
  });

  it("gives one reason for a level horizon", async () => {
    const light = await answer<LightWindows>(post(app, PATH, spring));
    const reasons = light.assumptions.filter(({ field }) => field === "horizon");
    expect(reasons).toMatchObject([{ value: "flat", why: "no elevation data covers this place" }]);
  });

  it("refracts by the air of the day, by query as by body", async () => {
    const byBody = await answer<LightWindows>(post(app, PATH, { ...spring, atmosphere: { temperatureC: -25 } }));
    const byQuery = await answer(get(app, PATH, { ...place, date: spring.date, temperatureC: -25 }));
    expect(byQuery).toEqual(byBody);
    const mild = await answer<LightWindows>(post(app, PATH, spring));
    const laterSeconds =
      (Date.parse(byBody.directLight.lastInstant ?? "") - Date.parse(mild.directLight.lastInstant ?? "")) / 1000;
    expect(laterSeconds).toBeGreaterThan(15);
    expect(laterSeconds).toBeLessThan(60);
    expect(byBody.events).toEqual(mild.events);
  });

  it("counts the golden hour as it is told", async () => {
    const bounds = { goldenHourDeg: [-1, 4], blueHourDeg: [-6, -1] };
    const light = await answer<LightWindows>(post(app, PATH, { ...spring, bounds }));
    const [blue, golden] = ["blue-hour", "golden-hour"].map((wanted) =>
      light.windows.find(({ kind, part }) => kind === wanted && part === "morning"),
    );
    expect(blue?.end).toBe(golden?.start);
    expect(golden?.minutes).toBeCloseTo((5 / 8.2) * 60, -1);
  });

  const withPoints = (...points: unknown[]) => ({ horizon: { kind: "profile", points } });
  const point = (azimuthDeg: unknown, altitudeDeg: unknown = 1) => ({ azimuthDeg, altitudeDeg });
  it.each<[what: string, change: Record<string, unknown>, pointer: string]>([
    ["a latitude beyond the pole", { place: { ...place, latitude: 91 } }, "/place/latitude"],
    ["a latitude in words", { place: { ...place, latitude: "NaN" } }, "/place/latitude"],
    ["a longitude without end", { place: { ...place, longitude: "Infinity" } }, "/place/longitude"],
    ["no place", { place: undefined }, "/place"],
    ["a day that is none", { date: "2027-02-30" }, "/date"],
    ["a zone that is none", { place: { ...strand, timeZone: "Ardvane/Strand" } }, "/place/timeZone"],
    ["air that nobody breathes", { atmosphere: { pressureHPa: 30 } }, "/atmosphere/pressureHPa"],
    ["a golden hour upside down", { bounds: { goldenHourDeg: [6, -4] } }, "/bounds/goldenHourDeg"],
    ["a blue hour with one end", { bounds: { blueHourDeg: [-6] } }, "/bounds/blueHourDeg"],
    ["a field that is none", { aperture: 8 }, "/aperture"],
    ["one azimuth twice", withPoints(point(0), point(90), point(90, 2)), "/horizon/points/2/azimuthDeg"],
    ["north twice", withPoints(point(360), point(90), point(0)), "/horizon/points/2/azimuthDeg"],
    ["one point", withPoints(point(0)), "/horizon/points"],
    ["an azimuth past the round", withPoints(point(0), point(361)), "/horizon/points/1/azimuthDeg"],
    ["an altitude that is none", withPoints(point(0), point(9, null)), "/horizon/points/1/altitudeDeg"],
    ["a skyline over the zenith", withPoints(point(0), point(9, 91)), "/horizon/points/1/altitudeDeg"],
    ["a slope past over", { subject: { facingAzimuthDeg: 3, slopeDeg: 200 } }, "/subject/slopeDeg"],
    ["half a subject's place", { subject: { latitude: 56 } }, "/subject/longitude"],
    ["a slope that looks nowhere", { subject: { slopeDeg: 30 } }, "/subject/facingAzimuthDeg"],
  ])("refuses %s by name", async (_what, change, pointer) => {
    expect(await refusedFields(post(app, PATH, { ...spring, ...change }))).toContain(pointer);
  });

  it.each(['{"place": {"latitude": NaN, "longitude": 0}}', '{"place": {"latitude": Infinity}}', "", "[]", "null"])(
    "refuses the body %j",
    async (body) => {
      await problem(post(app, PATH, body), 400);
    },
  );

  it("understands 1850, and has no answer", async () => {
    expect(await refusedFields(post(app, PATH, { ...spring, date: "1850-06-01" }), 422)).toEqual(["/date"]);
  });
});
