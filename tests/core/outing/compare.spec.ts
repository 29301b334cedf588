import { compareOutings, horizonProfileFromPoints, type OutingRequest } from "@fieldstop/core";
import { describe, expect, it } from "vitest";

const ridge = horizonProfileFromPoints([
  { azimuthDeg: 0, altitudeDeg: 0 },
  { azimuthDeg: 232, altitudeDeg: 0 },
  { azimuthDeg: 246, altitudeDeg: 5 },
  { azimuthDeg: 312, altitudeDeg: 5 },
  { azimuthDeg: 320, altitudeDeg: 0 },
]);
const open: OutingRequest = {
  place: { name: "Gannet Head", latitude: 56.637, longitude: -9.474, elevationM: 112 },
  date: "2027-03-20",
  timeZone: "Europe/London",
  session: "evening",
  horizon: { kind: "flat" },
  camera: { focalLengthMm: 24, aperture: 11, iso: 100, azimuthDeg: 290 },
};
const behindRidge: OutingRequest = {
  ...open,
  place: { name: "Ardvane Strand", latitude: 56.6, longitude: -9.4, elevationM: 2 },
  horizon: { kind: "profile", profile: ridge },
};

describe("compareOutings", () => {
  it("puts an open headland before a strand behind a ridge, and says why", () => {
    const [best, second] = compareOutings([behindRidge, open]);
    expect([best?.rank, best?.place.name, second?.rank, second?.place.name]).toEqual([
      1,
      "Gannet Head",
      2,
      "Ardvane Strand",
    ]);
    const late = (one: typeof best) => one?.parts.find(({ criterion }) => criterion === "late-light");
    expect(late(best)?.value).toBeGreaterThan(0.95);
    expect(late(second)?.value).toBeLessThan(0.8);
    expect(late(second)?.text).toMatch(/goes \d+ minutes from the almanac's sunset/);
  });

  it("is the weighted mean of its parts, each between 0 and 1", () => {
    const weights = { "late-light": 3, contrast: 0, "golden-light": 1 };
    for (const { score, parts } of compareOutings([behindRidge, open], weights)) {
      const total = parts.reduce((sum, { weight }) => sum + weight, 0);
      expect(score).toBeCloseTo(parts.reduce((sum, { value, weight }) => sum + value * weight, 0) / total, 12);
      for (const { value } of parts) {
        expect(value).toBeGreaterThanOrEqual(0);
        expect(value).toBeLessThanOrEqual(1);
      }
      expect(parts.map(({ criterion }) => criterion)).toEqual(["golden-light", "late-light"]);
    }
  });

  it("reckons with cloud where it is known, and only there", () => {
    const cloudy = (low: number) => ({ ...open, sky: { cloudCover: { low, middle: 30, high: 40 } } });
    const [best, second] = compareOutings([cloudy(95), cloudy(5)]);
    const cloud = (one: typeof best) => one?.parts.find(({ criterion }) => criterion === "cloud")?.value;
    expect([cloud(best), cloud(second)]).toEqual([1, 0]);
    expect(compareOutings([open])[0]?.parts.some(({ criterion }) => criterion === "cloud")).toBe(false);
  });

  it("does not depend on the order asked for", () => {
    const names = (requests: OutingRequest[]) => compareOutings(requests).map(({ place }) => place.name);
    expect(names([open, behindRidge])).toEqual(names([behindRidge, open]));
  });

  it.each([
    [{ "late-light": -1 }, "weights.late-light"],
    [{ "golden-light": 0, "late-light": 0, contrast: 0 }, "weights"],
  ])("refuses the weights %j", (weights, param) => {
    expect(() => compareOutings([open], weights)).toThrow(expect.objectContaining({ param }));
  });
});
