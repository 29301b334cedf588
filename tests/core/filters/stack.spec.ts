import { type Filter, stackFilters } from "@fieldstop/core/filters";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const nd = (stops: number): Filter => ({ kind: "nd", stops });
const codes = (request: Parameters<typeof stackFilters>[0]): string[] =>
  stackFilters(request).warnings.map(({ code }) => code);

const anyFilter: fc.Arbitrary<Filter> = fc.oneof(
  fc.double({ min: 0, max: 8, noNaN: true }).map((stops): Filter => ({ kind: "nd", stops })),
  fc.double({ min: 0, max: 2.4, noNaN: true }).map((density): Filter => ({ kind: "nd", density })),
  fc.double({ min: 1, max: 200, noNaN: true }).map((factor): Filter => ({ kind: "nd", factor })),
  fc.double({ min: 0, max: 2, noNaN: true }).map((lossStops): Filter => ({ kind: "polarizer", lossStops })),
  fc
    .double({ min: 0, max: 4, noNaN: true })
    .map((stops): Filter => ({ kind: "graduated", stops, transition: "medium" })),
);

describe("@examples", () => {
  it("answer as documented", () => {
    const { shutter } = stackFilters({ filters: [nd(6), nd(4)], baseShutterSeconds: 1 / 128 });
    expect(shutter?.nominal).toBe("8 s");
  });
});

describe("stackFilters", () => {
  it("adds stops and densities, multiplies factors and transmittances", () => {
    const stack = stackFilters({ filters: [{ kind: "nd", factor: 1000 }, { kind: "nd", density: 0.9 }, nd(3)] });
    expect(stack.attenuationStops).toBeCloseTo(Math.log2(1000) + 0.9 * Math.log2(10) + 3, 12);
    expect(stack.factor).toBeCloseTo(1000 * 10 ** 0.9 * 8, 6);
    expect(stack.density).toBeCloseTo(3.9 + Math.log10(8), 12);
    expect(stack.transmittancePercent).toBeCloseTo(100 / stack.factor, 12);
    expect(stack.markedStops).toBe(16);
    expect(stack.filters.map(({ mark }) => mark)).toEqual(["ND1000", "density 0.9", "3 stops"]);
    expect(stack).not.toHaveProperty("shutter");
  });

  it("takes nothing without filters", () => {
    const stack = stackFilters({ filters: [], baseShutterSeconds: 0.01 });
    expect(stack).toMatchObject({ attenuationStops: 0, density: 0, factor: 1, transmittancePercent: 100 });
    expect(stack.shutter?.seconds).toBe(0.01);
  });

  it("gives the time exact and as marked, and the time it began with", () => {
    const { baseShutter, shutter } = stackFilters({ filters: [nd(10)], baseShutterSeconds: 0.008 });
    expect(baseShutter).toMatchObject({ seconds: 0.008, nominal: "1/125 s", origin: "value" });
    expect(shutter).toMatchObject({ seconds: 8.192, nominal: "8 s", nominalSeconds: 8, origin: "solved" });
  });

  it("leaves the ground's exposure alone behind a graduated filter, and gives the sky's apart", () => {
    const graduated: Filter = { kind: "graduated", stops: 3, transition: "soft" };
    const stack = stackFilters({ filters: [nd(6), graduated], baseShutterSeconds: 0.5 });
    expect(stack).toMatchObject({ attenuationStops: 6, graduatedStops: 3, skyAttenuationStops: 9, markedStops: 6 });
    expect(stack.shutter?.seconds).toBe(32);
  });

  it("finds the time from light, aperture and ISO, and the light from the time", () => {
    const fromLight = stackFilters({ filters: [nd(6)], ev100: 10, aperture: 11, iso: 100 });
    expect(fromLight.baseShutter).toMatchObject({ seconds: expect.closeTo(0.125, 12), nominal: "1/8 s" });
    expect(fromLight.shutter?.seconds).toBeCloseTo(8, 12);
    const fromTime = stackFilters({ filters: [nd(6)], baseShutterSeconds: 0.125, aperture: 11, iso: 100 });
    expect(fromTime.ev100).toBeCloseTo(10, 12);
  });

  it("is the same to the last bit in any order", () => {
    fc.assert(
      fc.property(
        fc.array(anyFilter, { maxLength: 4 }),
        fc.double({ min: 1e-4, max: 1, noNaN: true }),
        (filters, t) => {
          const {
            filters: _,
            warnings: __,
            assumptions: ___,
            ...first
          } = stackFilters({ filters, baseShutterSeconds: t });
          for (const shuffled of [[...filters].reverse(), [...filters.slice(1), ...filters.slice(0, 1)]]) {
            expect(stackFilters({ filters: shuffled, baseShutterSeconds: t })).toMatchObject(first);
          }
        },
      ),
    );
  });

  it("never gets shorter with one more filter", () => {
    fc.assert(
      fc.property(fc.array(anyFilter, { maxLength: 3 }), anyFilter, (filters, more) => {
        const seconds = (on: Filter[]): number =>
          stackFilters({ filters: on, baseShutterSeconds: 0.01 }).shutter?.seconds as number;
        expect(seconds([...filters, more])).toBeGreaterThanOrEqual(seconds(filters) * (1 - 1e-12));
      }),
    );
  });
});

describe("warnings", () => {
  it("say when bulb is needed, by the mark and not by the digits", () => {
    // 1/2 s through 6 stops is 32 s, which the dial calls 30 s
    expect(codes({ filters: [nd(6)], baseShutterSeconds: 0.5 })).not.toContain("needs-bulb");
    expect(codes({ filters: [nd(7)], baseShutterSeconds: 0.5 })).toContain("needs-bulb");
    expect(codes({ filters: [nd(7)], baseShutterSeconds: 0.5, maxShutterSeconds: 60 })).not.toContain("needs-bulb");
    const { warnings } = stackFilters({ filters: [nd(7)], baseShutterSeconds: 0.5 });
    expect(warnings[0]?.text).toContain("30 s");
  });

  it("say when meter and autofocus no longer see", () => {
    expect(codes({ filters: [nd(10)], ev100: 6 })).toContain("past-metering-range");
    expect(codes({ filters: [nd(10)], ev100: 8 })).not.toContain("past-metering-range");
    expect(codes({ filters: [nd(10)], ev100: 6, meteringLimitEv100: -6 })).not.toContain("past-metering-range");
    // in a light that is not known, only what no daylight gets through
    expect(codes({ filters: [nd(16)] })).not.toContain("past-metering-range");
    expect(codes({ filters: [nd(20)] })).toContain("past-metering-range");
  });

  it("say when a stack may darken the corners of a wide lens", () => {
    const stack = [nd(3), { kind: "polarizer" } as const];
    expect(codes({ filters: stack, focalLengthMm: 20 })).toContain("wide-lens-stack");
    expect(codes({ filters: stack, focalLengthMm: 20, cropFactor: 1.5 })).not.toContain("wide-lens-stack");
    expect(codes({ filters: [...stack, nd(6)], focalLengthMm: 20, cropFactor: 1.5 })).toContain("wide-lens-stack");
    expect(codes({ filters: [nd(3)], focalLengthMm: 14 })).not.toContain("wide-lens-stack");
    expect(codes({ filters: stack })).not.toContain("wide-lens-stack");
  });

  it("say that two polarizers do not add up", () => {
    expect(codes({ filters: [{ kind: "polarizer" }, { kind: "polarizer" }] })).toContain("two-polarizers");
    expect(codes({ filters: [{ kind: "polarizer" }] })).not.toContain("two-polarizers");
  });

  it("come with the caution that a dense filter is no solar filter", () => {
    expect(stackFilters({ filters: [nd(10)] }).cautions.map(({ code }) => code)).toEqual(["sun-through-optics"]);
    expect(stackFilters({ filters: [nd(6)] }).cautions).toEqual([]);
  });
});

describe("outside the domain", () => {
  it.each<[string, string, Parameters<typeof stackFilters>[0]]>([
    ["filters", "out-of-range", { filters: Array.from({ length: 11 }, () => nd(1)) }],
    ["filters", "impossible", { filters: [nd(20), nd(20), nd(1)] }],
    ["filters", "impossible", { filters: [nd(20), nd(10)], baseShutterSeconds: 30 }],
    ["filters.1.stops", "out-of-range", { filters: [nd(1), nd(Number.NaN)] }],
    ["baseShutterSeconds", "out-of-range", { filters: [], baseShutterSeconds: 0 }],
    ["baseShutterSeconds", "out-of-range", { filters: [], baseShutterSeconds: Number.POSITIVE_INFINITY }],
    ["iso", "out-of-range", { filters: [], aperture: 8 }],
    ["aperture", "out-of-range", { filters: [], iso: 100 }],
    ["aperture", "out-of-range", { filters: [], aperture: 0, iso: 100, ev100: 10 }],
    ["ev100", "out-of-range", { filters: [], ev100: 10, aperture: 8, iso: 100, baseShutterSeconds: 1 }],
    ["ev100", "out-of-range", { filters: [], ev100: 100 }],
    ["focalLengthMm", "out-of-range", { filters: [], focalLengthMm: 0 }],
    ["cropFactor", "out-of-range", { filters: [], focalLengthMm: 20, cropFactor: 0 }],
    ["maxShutterSeconds", "out-of-range", { filters: [], maxShutterSeconds: -1 }],
  ])("refuses %s (%s)", (param, code, request) => {
    expect(() => stackFilters(request)).toThrow(expect.objectContaining({ name: "DomainError", param, code }));
  });
});
