import { dipDeg } from "@fieldstop/core/almanac";
import { describe, expect, it } from "vitest";

describe("dipDeg", () => {
  it("is 0.293° at 100 m, as its example says", () => expect(dipDeg(100)).toBeCloseTo(0.293, 3));

  // The Nautical Almanac: 1.758′·√h, so 5.6′ at 10 m (printed to a tenth of a minute)
  it("is that of the almanac, and none at or below the sea", () => {
    expect(dipDeg(10) * 60).toBeCloseTo(5.6, 1);
    expect(dipDeg(0)).toBe(0);
    expect(dipDeg(-400)).toBe(0);
    expect(() => dipDeg(Number.NaN)).toThrow(expect.objectContaining({ param: "heightAboveSeaM" }));
  });
});
