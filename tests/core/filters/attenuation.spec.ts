import {
  attenuationFromStops,
  DENSEST_FILTER_STOPS,
  filterGrades,
  stopsAsMarked,
  stopsFromDensity,
  stopsFromFactor,
  stopsFromTransmittance,
} from "@fieldstop/core/filters";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

describe("@examples", () => {
  it("answer as documented", () => {
    expect(attenuationFromStops(10).factor).toBe(1024);
    expect(stopsFromDensity(3)).toBeCloseTo(9.966, 3);
    expect(stopsFromFactor(1000)).toBeCloseTo(9.966, 3);
    expect(stopsFromTransmittance(12.5)).toBe(3);
    expect(stopsAsMarked(9.966)).toBe(10);
  });
});

describe("an attenuation", () => {
  it("comes back from each of the four ways to mark it", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: DENSEST_FILTER_STOPS, noNaN: true }), (stops) => {
        const { density, factor, transmittancePercent } = attenuationFromStops(stops);
        expect(stopsFromDensity(density)).toBeCloseTo(stops, 9);
        expect(stopsFromFactor(factor)).toBeCloseTo(stops, 9);
        expect(stopsFromTransmittance(Math.min(100, transmittancePercent))).toBeCloseTo(stops, 9);
        expect(10 ** density / factor).toBeCloseTo(1, 9);
      }),
    );
  });

  it("is sold within a sixth of a stop of what it is", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 20, noNaN: true }), (stops) => {
        expect(Math.abs(stopsAsMarked(stops) - stops)).toBeLessThanOrEqual(1 / 6 + 1e-12);
      }),
    );
    expect(stopsAsMarked(stopsFromDensity(0.45))).toBe(1.5);
  });
});

describe("filterGrades", () => {
  it("ascend, and say both what is engraved and what is so", () => {
    expect(filterGrades.length).toBeGreaterThanOrEqual(22);
    const stops = filterGrades.map((grade) => grade.stops);
    expect(stops).toEqual([...stops].sort((a, b) => a - b));
    expect(filterGrades.find(({ grade }) => grade === "ND1000")).toEqual({
      grade: "ND1000",
      factor: 1000,
      stops: expect.closeTo(9.96578, 5),
      markedStops: 10,
      density: expect.closeTo(3, 12),
      markedDensity: 3,
      transmittancePercent: expect.closeTo(0.1, 12),
    });
  });

  it("cannot be changed by those who read them", () => {
    expect(Object.isFrozen(filterGrades)).toBe(true);
    expect(filterGrades.every((grade) => Object.isFrozen(grade))).toBe(true);
  });
});

describe("outside the domain", () => {
  it.each([
    ["stops", () => attenuationFromStops(-1)],
    ["stops", () => attenuationFromStops(41)],
    ["stops", () => attenuationFromStops(Number.NaN)],
    ["density", () => stopsFromDensity(-0.1)],
    ["density", () => stopsFromDensity(6.1)],
    ["factor", () => stopsFromFactor(0.5)],
    ["factor", () => stopsFromFactor(2 ** 20 + 1)],
    ["transmittancePercent", () => stopsFromTransmittance(0)],
    ["transmittancePercent", () => stopsFromTransmittance(101)],
  ])("refuses %s by name", (param, call) => {
    expect(call).toThrow(expect.objectContaining({ name: "DomainError", param }));
  });
});
