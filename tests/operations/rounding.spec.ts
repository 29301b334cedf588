import { setFlagsFromString } from "node:v8";
import { rounded } from "@fieldstop/operations";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

describe("rounded", () => {
  it("cuts by the unit in the name, and what has none as the field around it", () => {
    const answer = {
      altitudeDeg: 1.23456789012,
      nearM: 0.12345678,
      distancesM: [12_345.678_9, 99.123_456_789],
      minutes: 71.123456,
      ev100: { sky: 12.123456789 },
      illuminanceLux: 12_345.678_91,
      fraction: 0.123456789012,
    };
    expect(rounded(answer)).toEqual({
      altitudeDeg: 1.2345679,
      nearM: 0.123457,
      distancesM: [12_345.679, 99.123457],
      minutes: 71.1235,
      ev100: { sky: 12.1234568 },
      illuminanceLux: 12_345.679,
      fraction: 0.123456789,
    });
  });

  it("answers alike for numbers that differ in what engines make of a sine", () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-20, max: 1e25, noNaN: true }), (lux) => {
        const [one, other] = [lux, lux * (1 + 1e-15)].map(
          (illuminanceLux) => rounded({ illuminanceLux }).illuminanceLux,
        );
        expect(Math.abs((one as number) - (other as number))).toBeLessThanOrEqual((one as number) * 2e-8);
        expect(Number((one as number).toPrecision(8))).toBe(one);
      }),
    );
  });

  it("leaves out what is undefined, and refuses what is not finite", () => {
    expect(rounded({ a: undefined, b: 1 })).toEqual({ b: 1 });
    expect(() => rounded({ a: [Number.NaN] })).toThrow("not finite");
  });

  it("leaves the lists of numbers that it reads as compact as they were", () => {
    setFlagsFromString("--allow-natives-syntax");
    const isCompact = new Function("list", "return %HasDoubleElements(list)") as (list: readonly number[]) => boolean;
    const numbersFrom = (first: number): number[] => Array.from({ length: 500 }, (_, i) => first + i / 8);
    const mixed = { places: [{ name: "strand" }, { name: "ridge" }], labels: ["low", "high"], counts: [1, 2, 3] };
    // long enough that the engine has optimized for all kinds of lists
    for (let i = 0; i < 5000; i++) rounded({ ...mixed, altitudesDeg: numbersFrom(i).slice(0, 20) });
    const altitudesDeg = numbersFrom(0.1);
    for (let i = 0; i < 100; i++) rounded({ ...mixed, altitudesDeg });
    expect(isCompact(altitudesDeg)).toBe(true);
  });
});
