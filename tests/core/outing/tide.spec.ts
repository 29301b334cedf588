import { type OutingRequest, type OutingTide, planOuting } from "@fieldstop/core";
import { describe, expect, it } from "vitest";

const HOUR_MS = 3_600_000;
const STEP_MS = 600_000;
const firstMs = Date.parse("2027-03-19T12:00:00Z");
// two metres either side of 2.5 m twice a day, high water at noon and midnight of UTC
const height = (ms: number): number => 2.5 + 2 * Math.cos((2 * Math.PI * (ms - firstMs)) / (12 * HOUR_MS));
const tide: OutingTide = {
  station: { id: "ardvane/pier", name: "Ardvane pier", latitude: 56.61, longitude: -9.41, distanceKm: 1.3 },
  datum: "LAT",
  attribution: "Ardvane harbour office",
  curve: {
    startMs: firstMs,
    stepMs: STEP_MS,
    heightsM: Array.from({ length: 361 }, (_, i) => height(firstMs + i * STEP_MS)),
  },
  extremes: Array.from({ length: 11 }, (_, i) => ({
    kind: i % 2 === 0 ? "high" : "low",
    instantMs: firstMs + i * 6 * HOUR_MS,
    heightM: i % 2 === 0 ? 4.5 : 0.5,
  })),
};
const evening: OutingRequest = {
  place: { latitude: 56.6, longitude: -9.4, elevationM: 2, eyeHeightM: 1.6 },
  date: "2027-03-20",
  timeZone: "Europe/London",
  session: "evening",
  horizon: { kind: "flat" },
  camera: { sensor: "full-frame", focalLengthMm: 24, aperture: 11, iso: 100 },
};

describe("planOuting, with a tide", () => {
  const plan = planOuting({ ...evening, tide });

  it("has the height of the water and its trend at each moment", () => {
    expect(plan.tide?.moments.map(({ name, instant }) => [name, instant])).toEqual(
      plan.moments.map(({ name, instant }) => [name, instant]),
    );
    for (const { instant, heightM, trend } of plan.tide?.moments ?? []) {
      const ms = Date.parse(instant);
      // instants are written to the second, in which this tide moves by 0.3 mm
      expect(Math.abs(heightM - height(ms))).toBeLessThan(0.0005);
      expect(trend).toBe(height(ms + 1000) > height(ms - 1000) ? "rising" : "falling");
    }
  });

  it("has high and low water from six hours before the arrival to six hours after the end", () => {
    const [from, to] = [Date.parse(plan.arriveBy) - 6 * HOUR_MS, Date.parse(plan.stayUntil) + 6 * HOUR_MS];
    const inside = tide.extremes.filter(({ instantMs }) => instantMs >= from && instantMs <= to);
    expect(inside.length).toBeGreaterThanOrEqual(2);
    expect(inside.length).toBeLessThan(tide.extremes.length);
    expect(plan.tide?.extremes.map(({ instant }) => Date.parse(instant))).toEqual(
      inside.map(({ instantMs }) => instantMs),
    );
  });

  it("names the station, its datum and its credit, and warns of predictions", () => {
    expect(plan.tide).toMatchObject({ station: tide.station, datum: "LAT", attribution: "Ardvane harbour office" });
    const cautions = plan.cautions.filter(({ code }) => code === "tide-and-swell");
    expect(cautions).toHaveLength(1);
    expect(cautions[0]?.text).toContain("not for navigation");
  });

  it("changes nothing else of the plan", () => {
    const { tide: _, cautions: withTide, ...rest } = plan;
    const { cautions, ...without } = planOuting(evening);
    expect(rest).toEqual(without);
    expect(withTide.map(({ code }) => code)).toEqual(cautions.map(({ code }) => code));
  });

  it("refuses a tide that does not cover the session", () => {
    expect(() => planOuting({ ...evening, date: "2027-04-20", tide })).toThrow(
      expect.objectContaining({ name: "DomainError", param: "tide.instantMs" }),
    );
  });
});
