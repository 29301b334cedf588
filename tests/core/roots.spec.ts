import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findCrossings, findPeak, findRoot } from "../../packages/core/src/roots";

describe("findRoot", () => {
  it("finds the root of a cubic and of a steep step", () => {
    expect(findRoot((x) => x ** 3 - 2, 0, 2, 1e-9)).toBeCloseTo(Math.cbrt(2), 8);
    expect(findRoot((x) => Math.atan(1e6 * (x - 0.123)), -1, 1, 1e-9)).toBeCloseTo(0.123, 8);
  });

  it("finds the root of any line to the tolerance", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -9.9, max: 9.9, noNaN: true }),
        fc.double({ min: 0.01, max: 50, noNaN: true }),
        (root, slope) => {
          expect(Math.abs(findRoot((x) => slope * (x - root), -10, 10, 1e-6) - root)).toBeLessThan(1e-6);
        },
      ),
    );
  });
});

describe("findPeak", () => {
  it("finds the top of humps of any width, also a flat one, a sharp one and one that leans", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 4.99, noNaN: true }),
        fc.double({ min: 0.1, max: 50, noNaN: true }),
        (top, width) => {
          const humps: ((x: number) => number)[] = [
            (x) => -(((x - top) / width) ** 2),
            (x) => -(Math.abs(x - top) / width),
            (x) => (x < top ? (x - top) / width : 3 * (top - x)),
          ];
          for (const hump of humps) expect(Math.abs(findPeak(hump, 0, 5, 1e-6) - top)).toBeLessThan(1e-6);
        },
      ),
    );
  });

  it("finds a peak at either end of the stretch", () => {
    expect(findPeak((x) => x, 0, 5, 1e-6)).toBeCloseTo(5, 5);
    expect(findPeak((x) => -x, 0, 5, 1e-6)).toBeCloseTo(0, 5);
  });

  it("asks a smooth curve a dozen times at most", () => {
    let calls = 0;
    const top = findPeak(
      (x) => {
        calls++;
        return Math.cos(x - 1.7);
      },
      0,
      3,
      1e-4,
    );
    expect(top).toBeCloseTo(1.7, 4);
    expect(calls).toBeLessThanOrEqual(12);
  });
});

describe("findCrossings", () => {
  it("finds each crossing of a sine, with its direction", () => {
    const found = findCrossings(Math.sin, 1, 10, 1, 1e-9);
    expect(found.map(({ direction }) => direction)).toEqual(["falling", "rising", "falling"]);
    for (const [i, { x }] of found.entries()) expect(x).toBeCloseTo((i + 1) * Math.PI, 7);
  });

  it("finds a hump that stands above zero between two samples only", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 2, max: 8, noNaN: true }),
        fc.double({ min: 1e-5, max: 0.2, noNaN: true }),
        (top, height) => {
          const found = findCrossings((x) => height - (x - top) ** 2, 0, 10, 1, 1e-9);
          expect(found).toHaveLength(2);
          expect(found[0]?.x).toBeCloseTo(top - Math.sqrt(height), 5);
          expect(found[1]?.x).toBeCloseTo(top + Math.sqrt(height), 5);
        },
      ),
    );
  });

  it("finds none where the hump stays below zero", () => {
    expect(findCrossings((x) => -1e-6 - (x - 3.3) ** 2, 0, 10, 1, 1e-9)).toEqual([]);
  });
});
