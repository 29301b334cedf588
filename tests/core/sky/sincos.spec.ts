import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { PAIR, sincos } from "../../../packages/core/src/sky/sincos";

describe("sincos", () => {
  it("agrees with the machine's own to 1e-11 up to ten thousand radians", () => {
    fc.assert(
      fc.property(fc.double({ min: -10_000, max: 10_000, noNaN: true }), (x) => {
        sincos(x);
        expect(Math.abs((PAIR[0] as number) - Math.cos(x))).toBeLessThan(1e-11);
        expect(Math.abs((PAIR[1] as number) - Math.sin(x))).toBeLessThan(1e-11);
      }),
      { numRuns: 2000 },
    );
  });

  it("is exact on whole quarter turns near zero, and right on the edges between them", () => {
    for (let eighth = -16; eighth <= 16; eighth++) {
      const x = (eighth * Math.PI) / 4;
      sincos(x);
      expect(PAIR[0]).toBeCloseTo(Math.cos(x), 10);
      expect(PAIR[1]).toBeCloseTo(Math.sin(x), 10);
    }
  });
});
