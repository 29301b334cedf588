import { filmEquivalentSeconds, filmSeconds } from "@fieldstop/core/exposure";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

describe("@examples", () => {
  it("answer as documented", () => {
    expect(filmSeconds(10, { exponent: 1.3 })).toBeCloseTo(19.95, 2);
    expect(filmEquivalentSeconds(19.95, { exponent: 1.3 })).toBeCloseTo(10, 2);
  });
});

describe("film", () => {
  it("needs no correction up to its threshold", () => {
    expect(filmSeconds(0.5, { exponent: 1.3 })).toBe(0.5);
    expect(filmSeconds(8, { exponent: 1.3, thresholdSeconds: 10 })).toBe(8);
  });

  it("meets the law without a jump at the threshold", () => {
    const film = { exponent: 1.35, thresholdSeconds: 4 };
    expect(filmSeconds(4 + 1e-9, film)).toBeCloseTo(4, 6);
  });

  it("goes there and back", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 1e4, noNaN: true }),
        fc.double({ min: 1, max: 3, noNaN: true }),
        fc.double({ min: 0.001, max: 1000, noNaN: true }),
        (seconds, exponent, thresholdSeconds) => {
          const film = { exponent, thresholdSeconds };
          const exposed = filmSeconds(seconds, film);
          expect(exposed).toBeGreaterThanOrEqual(seconds);
          expect(Math.abs(filmEquivalentSeconds(exposed, film) - seconds)).toBeLessThanOrEqual(1e-9 * seconds);
        },
      ),
    );
  });

  it.each([
    ["reciprocity.exponent", { exponent: 0.9 }],
    ["reciprocity.exponent", { exponent: Number.NaN }],
    ["reciprocity.thresholdSeconds", { exponent: 1.3, thresholdSeconds: 0 }],
  ])("names %s at fault", (param, film) => {
    expect(() => filmSeconds(1, film)).toThrow(expect.objectContaining({ param }));
    expect(() => filmEquivalentSeconds(1, film)).toThrow(expect.objectContaining({ param }));
  });
});
