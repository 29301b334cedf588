import { stationDatabase } from "@fieldstop/api/tides/station-database";
import { horizonProfileFromPoints } from "@fieldstop/core";
import {
  alignments,
  alignmentsInput,
  compareOutings,
  comparison,
  comparisonInput,
  type Dependencies,
  findAlignments,
  findLightWindowsFromBody,
  lightLevels,
  lightLevelsInput,
  lightWindows,
  lightWindowsInput,
  outing,
  outingInput,
  planOuting,
  rounded,
  type TerrainSource,
  traceLightLevels,
} from "@fieldstop/operations";
import { describe, expect, it } from "vitest";

// What answers are made of is plain data, so that another thread can make them

const place = { latitude: 56.6, longitude: -9.4, name: "Ardvane Strand" };
const shore = { latitude: 47.6, longitude: -3 };
const profile = horizonProfileFromPoints([
  { azimuthDeg: 0, altitudeDeg: 1 },
  { azimuthDeg: 270, altitudeDeg: 5 },
]);
const stations = stationDatabase();

/** A ridge all round, and how often it was looked up. */
function ridges() {
  const viewpoints: Parameters<TerrainSource["horizonAt"]>[0][] = [];
  const terrain: TerrainSource = {
    horizonAt: async (viewpoint) => {
      viewpoints.push(viewpoint);
      return {
        profile,
        source: { name: "ridges" },
        missingTiles: [],
        viewpoint: { groundElevationM: 12 },
        refractionCoefficient: 0.13,
      };
    },
  };
  const around: Dependencies = {
    terrain,
    tides: stations,
    timeZoneAt: () => "Europe/London",
    nowMs: () => Date.parse("2027-03-20T17:00:00Z"),
  };
  return { around, viewpoints };
}
const { around } = ridges();

const evening = {
  session: "evening",
  camera: { azimuthDeg: 290, aperture: 11, iso: 100 },
  filters: [{ kind: "nd", stops: 6 }, { kind: "polarizer" }],
  targetShutterSeconds: 30,
} as const;
const wall = { latitude: 56.61, longitude: -9.41, facingAzimuthDeg: 270 };

describe("a copy of the input, as another thread gets it, gives the same answer", () => {
  it("to an outing", async () => {
    const request = { ...evening, place: shore, tideStation: "nearest", subject: wall };
    const input = structuredClone(await outingInput(around, request));
    expect(rounded(outing(input))).toEqual(await planOuting(around, request));
    expect(input.request.tide?.station.distanceKm).toBeGreaterThan(0);
  });

  it("to a comparison", async () => {
    const request = { ...evening, places: [{ place }, { place, subject: wall }], dates: ["2027-03-20", "2027-06-21"] };
    const input = structuredClone(await comparisonInput(around, request));
    expect(comparison(input)).toEqual(await compareOutings(around, request));
    expect(comparison(input).outings).toHaveLength(4);
  });

  it("to levels of light", async () => {
    const request = { place, date: "2027-03-20", stepMinutes: 60, camera: { azimuthDeg: 290, focalLengthMm: 24 } };
    const input = structuredClone(await lightLevelsInput(around, request));
    expect(lightLevels(input)).toEqual(await traceLightLevels(around, request));
    expect(lightLevels(input).rows).toHaveLength(25);
  });

  it("to alignments", async () => {
    const target = { kind: "skyline", azimuthDeg: 286 } as const;
    const request = { place, body: "moon", target, from: "2027-01-01", to: "2027-12-31", toleranceDeg: 2 } as const;
    const input = structuredClone(await alignmentsInput(around, request));
    expect(alignments(input)).toEqual(await findAlignments(around, request));
    expect(alignments(input).alignments.length).toBeGreaterThan(3);
  });

  it("to light windows, of any number of days", async () => {
    const { around, viewpoints } = ridges();
    const request = { place, subject: wall };
    const input = structuredClone(await lightWindowsInput(around, request));
    expect(viewpoints).toHaveLength(2);
    expect(input.date).toBe("2027-03-20");
    expect(rounded(lightWindows(input))).toEqual(await findLightWindowsFromBody(around, request));
    for (const date of ["2027-03-21", "2027-12-01"]) {
      expect(rounded(lightWindows(input, date))).toEqual(await findLightWindowsFromBody(around, { ...request, date }));
    }
  });
});

describe("a comparison", () => {
  it("looks each place's skyline up once, however many days it has", async () => {
    const { around, viewpoints } = ridges();
    const places = [{ place }, { place: shore }];
    const dates = ["2027-03-20", "2027-03-21", "2027-03-22"];
    expect((await compareOutings(around, { ...evening, places, dates })).outings).toHaveLength(6);
    expect(viewpoints.map(({ latitude }) => latitude)).toEqual([place.latitude, shore.latitude]);
  });

  const flat = { kind: "flat" } as const;
  it.each([
    ["places.1.place.timeZone", { places: [{ place }, { place: { ...place, timeZone: "No/Where" } }] }],
    ["places.1.place.latitude", { places: [{ place }, { place: { ...place, latitude: 96 }, horizon: flat }] }],
    ["places.0.subject.facingAzimuthDeg", { places: [{ place, subject: { facingAzimuthDeg: 500 } }] }],
    ["dates.1", { places: [{ place }], dates: ["2027-03-20", "2027-02-30"] }],
    [
      "weights.cloud",
      { places: [{ place }], weights: { cloud: 99 }, sky: { cloudCover: { low: 0, middle: 0, high: 0 } } },
    ],
  ])("names what it refuses, %s", async (param, request) => {
    const refused = compareOutings(around, { ...evening, dates: ["2027-03-20"], ...request });
    await expect(refused).rejects.toMatchObject({ name: "DomainError", param });
  });

  it("refuses a day that cannot be before it looks up any ground", async () => {
    const { around, viewpoints } = ridges();
    const request = { ...evening, places: [{ place }], dates: ["2027-03-20", "2027-02-30"] };
    await expect(comparisonInput(around, request)).rejects.toMatchObject({ param: "dates.1" });
    expect(viewpoints).toHaveLength(0);
  });
});
