import { cloudOutlook } from "@fieldstop/core/sky";
import { describe, expect, it } from "vitest";

// Common practice throughout: there is no published table to hold this against
describe("cloudOutlook", () => {
  it.each([
    [{ low: 10, middle: 30, high: 50 }, "likely"],
    [{ low: 0, middle: 0, high: 0 }, "unlikely"],
    [{ low: 90, middle: 40, high: 40 }, "unlikely"],
    [{ low: 0, middle: 95, high: 0 }, "unlikely"],
    [{ low: 50, middle: 30, high: 40 }, "possible"],
    [{ low: 0, middle: 0, high: 100 }, "possible"],
  ] as const)("%j is %s, with a reason", (cover, outlook) => {
    const answer = cloudOutlook(cover);
    expect(answer.outlook).toBe(outlook);
    expect(answer.reasons.length).toBeGreaterThan(0);
  });

  it("never grows likelier with more low cloud", () => {
    const order = ["unlikely", "possible", "likely"];
    for (const canvas of [20, 50, 75]) {
      const rank = (low: number) => order.indexOf(cloudOutlook({ low, middle: 0, high: canvas }).outlook);
      for (let low = 0; low < 100; low += 5) expect(rank(low + 5)).toBeLessThanOrEqual(rank(low));
    }
  });

  it("refuses a sky of 140 % cloud", () => {
    expect(() => cloudOutlook({ low: 140, middle: 0, high: 0 })).toThrow(expect.objectContaining({ given: 140 }));
  });
});
