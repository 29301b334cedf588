import { linearFromSrgb, srgbFromLinear } from "@fieldstop/core/bracketing";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

describe("@examples", () => {
  it("answer as documented", () => {
    expect(linearFromSrgb(0.5)).toBeCloseTo(0.214, 4);
  });
});

describe("the sRGB curve", () => {
  it("starts at black, ends at white, and joins its straight part", () => {
    expect(linearFromSrgb(0)).toBe(0);
    expect(linearFromSrgb(1)).toBe(1);
    expect(linearFromSrgb(0.040_449_9)).toBeCloseTo(linearFromSrgb(0.040_450_1), 6);
    expect(linearFromSrgb(-1)).toBe(0);
    expect(srgbFromLinear(2)).toBe(1);
  });

  it("goes there and back", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1, noNaN: true }), (light) => {
        expect(linearFromSrgb(srgbFromLinear(light))).toBeCloseTo(light, 6);
      }),
    );
  });
});
