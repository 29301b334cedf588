import { createTerrain, type Terrain, TileError } from "@fieldstop/terrain";
import { beforeAll, describe, expect, it } from "vitest";
import { answer, get, problem, refusedFields, type TestApp, testApp } from "./harness";

const strand = { latitude: 56.6, longitude: -9.4 };

interface Skyline {
  viewpoint: { latitude: number; longitude: number; groundElevationM: number; eyeHeightM: number };
  azimuthsDeg: number[];
  altitudesDeg: number[];
  distancesM: number[];
  skyViewFactor: number;
  source: { name: string; resolutionM: number };
  missingTiles: { name: string; reason: string; azimuthsDeg: number[][] }[];
  uncertainAzimuthsDeg: number[][];
  refractionCoefficient: number;
  assumptions: { field: string; value: unknown }[];
  cautions: unknown[];
}

describe("GET /v1/horizon", () => {
  let terrain: Terrain;
  let app: TestApp;
  beforeAll(async () => {
    terrain = await createTerrain({ sources: [`${import.meta.dirname}/../../demo/elevation`] });
    app = testApp({ terrain });
  });

  it("answers the skyline of the demo island with what it rests on", async () => {
    const skyline = await answer<Skyline>(get(app, "/v1/horizon", { ...strand, radiusKm: 30 }));
    // every 0.25°, and closer where the skyline is not straight
    expect(skyline.azimuthsDeg.length).toBeGreaterThan(1440);
    expect(skyline.azimuthsDeg.filter((azimuth) => azimuth % 0.25 === 0)).toHaveLength(1440);
    expect(skyline.altitudesDeg).toHaveLength(skyline.azimuthsDeg.length);
    expect(skyline.distancesM).toHaveLength(skyline.azimuthsDeg.length);
    expect(skyline.viewpoint).toMatchObject({ ...strand, eyeHeightM: 1.6 });
    // land above, sea below the horizontal
    expect(Math.max(...skyline.altitudesDeg)).toBeGreaterThan(1);
    expect(Math.min(...skyline.altitudesDeg)).toBeLessThan(0);
    expect(skyline.skyViewFactor).toBeGreaterThan(0.9);
    expect(skyline.skyViewFactor).toBeLessThan(1);
    expect(skyline.source).toMatchObject({ resolutionM: 93 });
    expect(skyline.missingTiles).toEqual([]);
    expect(skyline.assumptions.map(({ field }) => field)).toEqual(["eyeHeightM", "refractionCoefficient"]);
    expect(skyline.cautions).toEqual([]);
  });

  it("stands on the highest ground near the place where that is asked for, and says how far it moved", async () => {
    const query = { ...strand, radiusKm: 5, stepDeg: 5 };
    const plain = await answer<Skyline>(get(app, "/v1/horizon", query));
    const moved = await answer<Skyline & { snappedFrom: { latitude: number; longitude: number; distanceM: number } }>(
      get(app, "/v1/horizon", { ...query, snapToHighestWithinM: 800 }),
    );
    expect(plain).not.toHaveProperty("snappedFrom");
    expect(moved.viewpoint.groundElevationM).toBeGreaterThan(plain.viewpoint.groundElevationM);
    expect(moved.snappedFrom).toMatchObject(strand);
    expect(moved.snappedFrom.distanceM).toBeLessThanOrEqual(800);
    const { latitude, longitude } = moved.viewpoint;
    // on a node of the 3″ grid, and no higher node within the distance
    expect(latitude * 1200).toBeCloseTo(Math.round(latitude * 1200), 5);
    const highest = await terrain.highestNear(latitude, longitude, 1);
    expect(highest?.groundElevationM).toBeCloseTo(moved.viewpoint.groundElevationM, 9);
    expect(await answer<Skyline>(get(app, "/v1/horizon", query))).toEqual(plain);
  });

  it("says the same as terrain does, to the places that the service writes", async () => {
    const skyline = await answer<Skyline>(
      get(app, "/v1/horizon", { ...strand, eyeHeightM: 3, stepDeg: 2, radiusKm: 20 }),
    );
    const known = await terrain.horizonAt({ ...strand, eyeHeightM: 3 }, { stepDeg: 2, radiusKm: 20 });
    expect(skyline.altitudesDeg).toHaveLength(180);
    skyline.altitudesDeg.forEach((altitude, i) => {
      expect(altitude).toBeCloseTo(known?.profile.altitudesDeg[i] as number, 6);
    });
    expect(skyline.assumptions.map(({ field }) => field)).toEqual(["refractionCoefficient"]);
  });

  it("names the tiles that it lacks and the azimuths in doubt", async () => {
    const skyline = await answer<Skyline>(get(app, "/v1/horizon", { ...strand, stepDeg: 5 }));
    expect(skyline.missingTiles).toContainEqual(expect.objectContaining({ name: "N56W012", reason: "absent" }));
    expect(skyline.uncertainAzimuthsDeg.length).toBeGreaterThan(0);
  });

  it.each([
    [{ latitude: 91 }, "query:latitude"],
    [{ eyeHeightM: 0 }, "query:eyeHeightM"],
    [{ stepDeg: 0 }, "query:stepDeg"],
    [{ stepDeg: 0.001 }, "query:stepDeg"],
    [{ radiusKm: 401 }, "query:radiusKm"],
    [{ radiusKm: "far" }, "query:radiusKm"],
    [{ elevationM: 3 }, "query:elevationM"],
  ])("refuses %j by name", async (bad, pointer) => {
    expect(await refusedFields(get(app, "/v1/horizon", { ...strand, ...(bad as Record<string, number>) }))).toContain(
      pointer,
    );
  });

  it("has no answer where there is no elevation data, or none at all", async () => {
    for (const where of [app, testApp()]) {
      const { type, errors } = await problem(get(where, "/v1/horizon", { latitude: 10, longitude: 10 }), 422);
      expect(type).toBe("/problems/impossible");
      expect(errors?.[0]).toMatchObject({ pointer: "query:latitude" });
    }
  });

  it("cannot answer just now where the tile of the place is bad, and does not say where it lies", async () => {
    const broken: Terrain = {
      ...terrain,
      dataVersion: "0",
      horizonAt: () => Promise.reject(new TileError("N56W010.hgt", "10 bytes of heights")),
      groundElevationM: () => Promise.resolve(null),
    };
    const response = await get(testApp({ terrain: broken }), "/v1/horizon", strand);
    expect(response.headers.get("Retry-After")).toBe("60");
    const { type, detail } = await problem(response, 503);
    expect(type).toBe("/problems/unavailable");
    expect(detail).not.toContain("hgt");
  });
});
