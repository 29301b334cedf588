import { DomainError } from "@fieldstop/core";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { acosDeg, asinDeg, separationDeg, wrap180, wrap360 } from "../../packages/core/src/angles";
import { requireInRange, requirePositive } from "../../packages/core/src/domain-error";
import { interpolateRoundCompass, lastIndexAtOrBelow } from "../../packages/core/src/interpolation";

const anyAngle = fc.double({ min: -1e6, max: 1e6, noNaN: true });

describe("refusals", () => {
  it("tell what is large by its kind and size", () => {
    const sentence = (given: unknown) => new DomainError({ param: "sky", given, allowed: "only with place" }).message;
    expect(sentence(undefined)).toBe("sky: missing; allowed: only with place");
    expect(sentence({ low: 1 })).toBe("sky: an object is not allowed; allowed: only with place");
    expect(sentence(new Array(5000).fill(1))).toContain("an array of 5000 is");
    expect(sentence(null)).toContain("null is");
    expect(sentence("x".repeat(5000)).length).toBeLessThan(200);
  });
});

describe("angles", () => {
  it("wraps any angle into its range, and by whole turns", () => {
    fc.assert(
      fc.property(anyAngle, (deg) => {
        expect(wrap360(deg)).toBeGreaterThanOrEqual(0);
        expect(wrap360(deg)).toBeLessThan(360);
        expect(wrap180(deg)).toBeGreaterThanOrEqual(-180);
        expect(wrap180(deg)).toBeLessThan(180);
        const turns = (wrap360(deg) - deg) / 360;
        expect(Math.abs(turns - Math.round(turns))).toBeLessThan(1e-9);
      }),
    );
    expect(wrap360(-1e-20)).toBe(0);
  });

  it("clamps where rounding oversteps", () => {
    expect(asinDeg(1 + 1e-12)).toBe(90);
    expect(acosDeg(-1 - 1e-12)).toBe(180);
  });

  it("keeps its digits at small separations", () => {
    expect(separationDeg(10, 45, 10 + 1e-7, 45)).toBeCloseTo(1e-7 * Math.SQRT1_2, 12);
    expect(separationDeg(0, 90, 180, 89)).toBeCloseTo(1, 9);
  });
});

describe("lastIndexAtOrBelow", () => {
  it("is what a look at each element finds, however they are spaced", () => {
    const lists = [
      fc
        .uniqueArray(fc.double({ min: -1e3, max: 1e3, noNaN: true }), { maxLength: 40 })
        .map((list) => list.sort((a, b) => a - b)),
      // evenly spaced, where the sum of steps strays in its last digits
      fc
        .tuple(fc.double({ min: 0.01, max: 7, noNaN: true }), fc.integer({ min: 1, max: 60 }))
        .map(([step, n]) => Array.from({ length: n }, (_, i) => i * step)),
    ];
    fc.assert(
      fc.property(fc.oneof(...lists), fc.double({ min: -1100, max: 1100, noNaN: true }), fc.nat(), (list, x, pick) => {
        for (const at of [x, list[pick % Math.max(1, list.length)] ?? x]) {
          expect(lastIndexAtOrBelow(list, at)).toBe(list.filter((element) => element <= at).length - 1);
        }
      }),
      { numRuns: 2000 },
    );
  });
});

describe("interpolateRoundCompass", () => {
  it("joins the last azimuth with the first round north", () => {
    const azimuths = [10, 350];
    expect(interpolateRoundCompass(azimuths, [0, 4], 0)).toBeCloseTo(2, 12);
    expect(interpolateRoundCompass(azimuths, [0, 4], 360)).toBeCloseTo(2, 12);
    expect(interpolateRoundCompass(azimuths, [0, 4], 180)).toBeCloseTo(2, 12);
    expect(interpolateRoundCompass(azimuths, [0, 4], 355)).toBeCloseTo(3, 12);
  });

  it("gives the value at each node", () => {
    const azimuths = [0, 90.5, 200, 359.75];
    for (const [i, azimuth] of azimuths.entries())
      expect(interpolateRoundCompass(azimuths, [1, 2, 3, 4], azimuth)).toBe(i + 1);
  });
});

describe("DomainError", () => {
  it("names the argument, the value and what is allowed", () => {
    expect(() => requireInRange("latitude", 91, -90, 90, "deg")).toThrow(
      expect.objectContaining({ param: "latitude", given: 91, allowed: "a finite number from -90 to 90", unit: "deg" }),
    );
    expect(() => requireInRange("latitude", Number.NaN, -90, 90)).toThrow(RangeError);
    expect(() => requireInRange("distanceM", Number.POSITIVE_INFINITY, 0, Number.POSITIVE_INFINITY)).toThrow(
      DomainError,
    );
    expect(() => requirePositive("aperture", 0)).toThrow(/aperture: 0 is not allowed/);
  });
});
