import { DomainError } from "@fieldstop/core";
import { describe, expect, it } from "vitest";
import { daysSinceJ2000, deltaTSeconds, ephemerisDaysSinceJ2000, requireInstant } from "../../packages/core/src/time";

describe("deltaTSeconds", () => {
  // Espenak & Meeus 2006, NASA/TP-2006-214141, and the table of ΔT there: 1900 −3, 1950 29, 2000 64; forecast 2050 93, 2100 203
  it.each([
    [1900, -2.79, 0.05],
    [1950, 29.07, 0.05],
    [2000, 63.86, 0.05],
    [2050, 93, 0.1],
    [2100, 202.8, 0.5],
  ])("is that of the canon in %i", (year, expected, tolerance) => {
    expect(Math.abs(deltaTSeconds(Date.UTC(year, 0, 1)) - expected)).toBeLessThan(tolerance);
  });

  // observed: International Earth Rotation and Reference Systems Service, ΔT on 1 January (1920 21.16, 1941 24.8, 1961 33.6, 1986 54.9, 2005 64.7)
  it.each([
    [1920, 21.16],
    [1941, 24.8],
    [1961, 33.6],
    [1986, 54.9],
    [2005, 64.7],
  ])("is within half a second of what was observed where its pieces meet in %i, on either side", (year, observed) => {
    const ms = Date.UTC(year, 0, 1);
    for (const side of [-1, 1]) {
      expect(Math.abs(deltaTSeconds(ms + side * 2 * 86_400_000) - observed)).toBeLessThan(0.5);
    }
  });

  it("joins where the forecast begins", () => {
    const ms = Date.UTC(2050, 0, 1);
    expect(Math.abs(deltaTSeconds(ms + 86_400_000) - deltaTSeconds(ms - 86_400_000))).toBeLessThan(0.1);
  });
});

describe("time scales", () => {
  it("counts from noon of 1 January 2000", () => {
    expect(daysSinceJ2000(Date.UTC(2000, 0, 1, 12))).toBe(0);
    expect(daysSinceJ2000(Date.UTC(1999, 11, 31, 12))).toBe(-1);
  });

  it("runs ahead of Universal Time by ΔT", () => {
    const ms = Date.UTC(2000, 0, 1, 12);
    expect(ephemerisDaysSinceJ2000(ms) * 86400).toBeCloseTo(deltaTSeconds(ms), 6);
  });
});

describe("requireInstant", () => {
  it("lets local days at both ends of the years pass", () => {
    for (const ms of [Date.UTC(1899, 11, 31, 10), Date.UTC(2101, 0, 1, 12)]) {
      expect(requireInstant("instantMs", ms)).toBe(ms);
    }
  });

  it.each([
    [Date.UTC(1899, 0, 1), "impossible"],
    [Date.UTC(2102, 0, 1), "impossible"],
    [Number.NaN, "out-of-range"],
    [Number.POSITIVE_INFINITY, "out-of-range"],
  ])("refuses %d", (ms, code) => {
    expect(() => requireInstant("startMs", ms)).toThrow(expect.objectContaining({ code, param: "startMs" }));
    expect(() => requireInstant("startMs", ms)).toThrow(DomainError);
  });
});
