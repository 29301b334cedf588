import { describe, expect, it } from "vitest";
import { answer, get, NOW, problem, refusedFields, testApp } from "./harness";

const app = testApp();
const strand = { latitude: 56.6, longitude: -9.4 };

describe("GET /v1/moon", () => {
  // JPL Horizons (DE431), airless apparent place at 29° N, 81° W, 10 m: azimuth 119.8032°, altitude 64.8654°
  it("answers the place that an observatory computed", async () => {
    const moon = await answer(
      get(app, "/v1/moon", { latitude: 29, longitude: -81, elevationM: 10, instant: "2000-01-17T00:00:00Z" }),
    );
    expect(moon["azimuthDeg"]).toBeCloseTo(119.8032, 2);
    expect(moon["trueAltitudeDeg"]).toBeCloseTo(64.8654, 2);
    expect(moon["altitudeDeg"]).toBeGreaterThan(moon["trueAltitudeDeg"] as number);
  });

  // JPL Horizons, geocentric: lit fraction and distance; phases of 2026 by the
  // US Naval Observatory: full 3 January 10:03, new 18 January 19:52, first quarter 21 June 21:55, last quarter 7 July 19:29
  it.each([
    ["2026-01-03T18:00:00Z", 0.997187, 363253.7, "full-moon"],
    ["2026-01-18T12:00:00Z", 0.002085, 396459.6, "new-moon"],
    ["2026-06-21T00:00:00Z", 0.406119, 383143.2, "waxing-crescent"],
    ["2026-07-06T18:00:00Z", 0.614518, 383955.2, "waning-gibbous"],
  ])("knows distance and phase on %s", async (instant, fraction, distanceKm, name) => {
    const moon = await answer(get(app, "/v1/moon", { ...strand, instant }));
    expect(moon["illuminatedFraction"]).toBeCloseTo(fraction, 3);
    expect(Math.abs((moon["distanceKm"] as number) - distanceKm)).toBeLessThan(60);
    expect(moon["phaseName"]).toBe(name);
    expect((1 - Math.cos(2 * Math.PI * (moon["phase"] as number))) / 2).toBeCloseTo(fraction, 1);
    expect((moon["semidiameterDeg"] as number) * 2).toBeCloseTo(0.52, 1);
    expect(moon["phaseAngleDeg"]).toBeCloseTo((Math.acos(2 * fraction - 1) * 180) / Math.PI, 0);
  });

  it("takes the present where no instant is given, and says what it took for granted", async () => {
    const moon = await answer(get(app, "/v1/moon", strand));
    expect(Date.parse(moon["instant"] as string)).toBe(Date.parse(NOW));
    for (const field of ["timeZone", "pressureHPa", "temperatureC"]) {
      expect(moon["assumptions"]).toContainEqual(expect.objectContaining({ field }));
    }
  });

  it("refracts by the air it is told, and takes nothing for granted then", async () => {
    const ask = (pressureHPa: number) =>
      answer(
        get(app, "/v1/moon", {
          ...strand,
          timeZone: "Etc/UTC",
          instant: "2027-03-20T15:30:00Z",
          pressureHPa,
          temperatureC: -10,
        }),
      );
    const lift = ({ altitudeDeg, trueAltitudeDeg }: Record<string, unknown>): number =>
      (altitudeDeg as number) - (trueAltitudeDeg as number);
    const [high, low] = await Promise.all([ask(1040), ask(520)]);
    expect(lift(high) / lift(low)).toBeCloseTo(2, 6);
    expect(high["assumptions"]).toEqual([]);
  });

  it("says that it took the place to lie at sea level, unless its height is told", async () => {
    const elevations = async (told: Record<string, number>) => {
      const { assumptions } = await answer(get(app, "/v1/moon", { ...strand, ...told }));
      return (assumptions as { field: string }[]).filter(({ field }) => field === "elevationM");
    };
    expect(await elevations({})).toEqual([{ field: "elevationM", value: 0, why: expect.stringMatching(/sea level/) }]);
    expect(await elevations({ elevationM: 4 })).toEqual([]);
  });

  it.each([
    [{ latitude: 91 }, "query:latitude"],
    [{ longitude: "" }, "query:longitude"],
    [{ pressureHPa: 100 }, "query:pressureHPa"],
    [{ temperatureC: "warm" }, "query:temperatureC"],
    [{ elevationM: 9001 }, "query:elevationM"],
    [{ date: "2027-03-20" }, "query:date"],
    [{ instant: "2027-03-20" }, "query:instant"],
    [{ timeZone: "Ardvane/Strand" }, "query:timeZone"],
  ])("refuses %j by name", async (bad, pointer) => {
    expect(
      await refusedFields(get(app, "/v1/moon", { ...strand, ...bad } as unknown as Record<string, string>)),
    ).toContain(pointer);
  });

  it("understands a year out of range, and has no answer", async () => {
    const { type } = await problem(get(app, "/v1/moon", { ...strand, instant: "2150-01-01T00:00:00Z" }), 422);
    expect(type).toBe("/problems/impossible");
  });
});
