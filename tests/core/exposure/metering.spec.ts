import {
  ev100FromIlluminance,
  ev100FromLuminance,
  ev100OfReading,
  footcandlesFromIlluminance,
  footlambertsFromLuminance,
  illuminanceFromEv100,
  luminanceFromEv100,
} from "@fieldstop/core/exposure";
import { describe, expect, it } from "vitest";

describe("@examples", () => {
  it("answer as documented", () => {
    expect(luminanceFromEv100(15)).toBe(4096);
    expect(ev100FromLuminance(4096)).toBe(15);
    expect(illuminanceFromEv100(15)).toBe(81920);
    expect(ev100FromIlluminance(81920)).toBe(15);
    expect(footlambertsFromLuminance(4096)).toBeCloseTo(1195.47, 2);
    expect(footcandlesFromIlluminance(2560)).toBeCloseTo(237.83, 2);
    expect(ev100OfReading({ illuminanceLux: 80000 })).toBeCloseTo(14.97, 2);
  });
});

describe("ev100OfReading", () => {
  it("takes each way of reading the light, and says which constant it took", () => {
    const assumptions: { field: string; value: unknown }[] = [];
    expect(ev100OfReading({ ev100: 12 }, assumptions as never)).toBe(12);
    expect(assumptions).toEqual([]);
    expect(ev100OfReading({ luminanceCdPerM2: 512 }, assumptions as never)).toBe(12);
    expect(ev100OfReading({ illuminanceLux: 10240 }, assumptions as never)).toBe(12);
    expect(assumptions.map(({ field, value }) => [field, value])).toEqual([
      ["meterConstantK", 12.5],
      ["meterConstantC", 250],
    ]);
  });

  it("takes the constants of the meter at hand, and says nothing of them", () => {
    const assumptions: never[] = [];
    expect(ev100OfReading({ luminanceCdPerM2: 512, meterConstantK: 11.4 }, assumptions)).toBeCloseTo(
      Math.log2(51200 / 11.4),
      12,
    );
    expect(ev100OfReading({ illuminanceLux: 1000, receptor: "hemispherical", meterConstantC: 340 }, assumptions)).toBe(
      Math.log2(100_000 / 340),
    );
    expect(assumptions).toEqual([]);
    expect(ev100OfReading({ illuminanceLux: 1000, receptor: "hemispherical" })).toBe(Math.log2(100_000 / 330));
  });

  it.each([
    ["ev100", {}],
    ["luminanceCdPerM2", { ev100: 3, luminanceCdPerM2: 3 }],
    ["illuminanceLux", { luminanceCdPerM2: 3, illuminanceLux: 3 }],
    ["illuminanceLux", { ev100: 3, illuminanceLux: 3 }],
    ["ev100", { ev100: Number.NaN }],
    ["luminanceCdPerM2", { luminanceCdPerM2: 0 }],
    ["luminanceCdPerM2", { luminanceCdPerM2: 1e300 }],
    ["illuminanceLux", { illuminanceLux: -1 }],
    ["meterConstantK", { luminanceCdPerM2: 3, meterConstantK: 14 }],
    ["meterConstantC", { illuminanceLux: 3, meterConstantC: 239 }],
    ["meterConstantC", { illuminanceLux: 3, meterConstantC: 250, receptor: "hemispherical" as const }],
  ])("names %s at fault", (param, reading) => {
    expect(() => ev100OfReading(reading)).toThrow(expect.objectContaining({ name: "DomainError", param }));
  });
});
