import { lightCurveFromModel, lightCurveFromSamples, solveLongExposure } from "@fieldstop/core/exposure";
import { type Filter, type FilterSelection, selectFilters, stackFilters } from "@fieldstop/core/filters";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const nd = (stops: number): Filter => ({ kind: "nd", stops });
const kit = [nd(3), nd(6), nd(10)];
const marks = (selection: FilterSelection): string[] => selection.choices.map((choice) => choice.marks.join(" + "));

// an evening on Ardvane: a stop every four minutes, from EV100 10
const MINUTE = 60_000;
const evening = lightCurveFromModel((ms) => 10 - ms / (4 * MINUTE), 0, 60 * MINUTE);

describe("@examples", () => {
  it("answer as documented", () => {
    const { choices } = selectFilters({ filters: kit, baseShutterSeconds: 1 / 15, wantedShutterSeconds: 30 });
    expect(choices[0]?.marks).toEqual(["3 stops", "6 stops"]);
  });
});

describe("selectFilters", () => {
  it("ranks by error, then by number of filters", () => {
    const selection = selectFilters({ filters: kit, baseShutterSeconds: 1 / 15, wantedShutterSeconds: 30 });
    expect(marks(selection)).toEqual([
      "3 stops + 6 stops",
      "10 stops",
      "6 stops",
      "3 stops + 10 stops",
      "3 stops",
      "6 stops + 10 stops",
      "",
      "3 stops + 6 stops + 10 stops",
    ]);
    expect(selection.choices[0]).toMatchObject({ filters: [0, 1], errorStops: 0, meets: true });
    expect(selection.choices[0]?.shutter.nominal).toBe("30 s");
    expect(selection.choices[2]).toMatchObject({ errorStops: -3, meets: false });
    expect(selection).toMatchObject({ consideredCount: 8, meetingCount: 1, leftOut: [] });
    const even = selectFilters({ filters: [nd(3), nd(3), nd(6)], baseShutterSeconds: 1, wantedShutterSeconds: 64 });
    expect(marks(even).slice(0, 2)).toEqual(["6 stops", "3 stops + 3 stops"]);
  });

  it("prefers no polarizer among equals", () => {
    const filters: Filter[] = [{ kind: "polarizer", lossStops: 3 }, nd(3)];
    const selection = selectFilters({ filters, baseShutterSeconds: 1, wantedShutterSeconds: 8 });
    expect(marks(selection).slice(0, 2)).toEqual(["3 stops", "polarizer"]);
  });

  it("finds the best of every subset, whatever the kit", () => {
    const stops = fc.array(fc.double({ min: 0.1, max: 10, noNaN: true }), { minLength: 1, maxLength: 7 });
    const base = fc.double({ min: 1e-3, max: 1, noNaN: true });
    fc.assert(
      fc.property(stops, base, fc.integer({ min: 1, max: 4 }), (all, baseShutterSeconds, maxStacked) => {
        const request = { filters: all.map(nd), baseShutterSeconds, wantedShutterSeconds: 20, maxStacked };
        const { choices, baseShutter, wanted } = selectFilters({ ...request, maxChoices: 200 });
        const errors: number[] = [];
        for (let mask = 0; mask < 2 ** all.length; mask++) {
          const on = all.filter((_, i) => mask & (1 << i));
          if (on.length > maxStacked) continue;
          const sum = on.reduce((total, each) => total + each, 0);
          errors.push(Math.abs(sum - Math.log2(wanted.max.seconds / baseShutter.seconds)));
        }
        expect(Math.abs(choices[0]?.errorStops as number)).toBeCloseTo(Math.min(...errors), 5);
        const ranked = choices.map((choice) => Math.abs(choice.errorStops));
        for (let i = 1; i < ranked.length; i++) {
          expect(ranked[i]).toBeGreaterThanOrEqual((ranked[i - 1] as number) - 2e-6);
        }
      }),
    );
  });

  it("agrees with the stack of the same filters", () => {
    const { choices, baseShutter } = selectFilters({
      filters: [{ kind: "nd", factor: 1000 }, { kind: "nd", density: 0.9 }, { kind: "polarizer" }],
      baseShutterSeconds: 1 / 60,
      wantedShutterSeconds: 60,
    });
    expect(choices).toHaveLength(8);
    for (const choice of choices) {
      const filters = choice.filters.map(
        (i) => [{ kind: "nd", factor: 1000 }, { kind: "nd", density: 0.9 }, { kind: "polarizer" }][i] as Filter,
      );
      const stack = stackFilters({ filters, baseShutterSeconds: baseShutter.seconds });
      expect(choice.attenuationStops).toBe(stack.attenuationStops);
      expect(choice.shutter.seconds).toBeCloseTo(stack.shutter?.seconds as number, 9);
      expect(choice.warnings).toEqual(stack.warnings);
    }
  });

  it("leaves graduated filters and second polarizers out, and counts equal filters once", () => {
    const filters: Filter[] = [
      { kind: "graduated", stops: 2, transition: "soft" },
      { kind: "polarizer" },
      { kind: "polarizer" },
      nd(6),
      nd(6),
    ];
    const selection = selectFilters({ filters, baseShutterSeconds: 1, wantedShutterSeconds: 30, maxStacked: 4 });
    expect(selection.leftOut).toEqual([{ filter: 0, reason: "graduated" }]);
    expect(marks(selection).sort()).toEqual(
      ["", "6 stops", "6 stops + 6 stops", "polarizer", "polarizer + 6 stops", "polarizer + 6 stops + 6 stops"].sort(),
    );
  });

  it("takes a range, inside which nothing is wrong", () => {
    const selection = selectFilters({
      filters: kit,
      baseShutterSeconds: 1 / 8,
      wantedRangeSeconds: { min: 1, max: 8 },
    });
    expect(selection.choices.slice(0, 2)).toMatchObject([
      { marks: ["3 stops"], errorStops: 0, meets: true },
      { marks: ["6 stops"], errorStops: 0, meets: true },
    ]);
    expect(selection.choices[2]).toMatchObject({ errorStops: -3, meets: false });
    expect(selection.toleranceStops).toBe(0);
    expect(selection.meetingCount).toBe(2);
  });

  it("keeps to the number of choices asked for, and says how many there were", () => {
    const filters = Array.from({ length: 12 }, (_, i) => nd(1 + i / 10));
    const selection = selectFilters({ filters, baseShutterSeconds: 1, wantedShutterSeconds: 8, maxChoices: 5 });
    expect(selection.choices).toHaveLength(5);
    expect(selection.consideredCount).toBe(1 + 12 + 66 + 220);
  });

  it("says what it took for granted", () => {
    const { assumptions } = selectFilters({ filters: kit, baseShutterSeconds: 1, wantedShutterSeconds: 8 });
    const fields = assumptions.map(({ field }) => field);
    expect(fields).toEqual(expect.arrayContaining(["toleranceStops", "maxStacked", "meteringLimitEv100"]));
  });
});

describe("over an evening", () => {
  const settings = { aperture: 11, iso: 100 };

  it("says when each combination reaches the wanted time, and it does then", () => {
    const { choices } = selectFilters({ filters: kit, ...settings, light: evening, wantedShutterSeconds: 30 });
    let reached = 0;
    for (const { attenuationStops, moments } of choices) {
      if (moments?.kind !== "crosses") continue;
      for (const { startMs, direction } of moments.moments) {
        reached++;
        expect(direction).toBe("fading");
        const { corrected } = solveLongExposure({ ...settings, attenuationStops, light: evening, startMs });
        expect(corrected.kind === "reached" && corrected.shutter.seconds).toBeCloseTo(32, 3);
      }
    }
    expect(reached).toBeGreaterThanOrEqual(3);
  });

  it("gives the stretch of time in which each combination will do", () => {
    const { choices } = selectFilters({ filters: kit, ...settings, light: evening, wantedShutterSeconds: 30 });
    const six = choices.find((choice) => choice.marks.join() === "6 stops");
    const [window] = six?.windows ?? [];
    expect(six?.windows).toHaveLength(1);
    const secondsAt = (startMs: number): number => {
      const { corrected } = solveLongExposure({ ...settings, attenuationStops: 6, light: evening, startMs });
      return corrected.kind === "reached" ? corrected.shutter.seconds : Number.NaN;
    };
    expect(secondsAt(window?.startMs as number)).toBeCloseTo(32 * 2 ** -0.5, 3);
    expect(secondsAt(window?.endMs as number)).toBeCloseTo(32 * 2 ** 0.5, 3);
  });

  it("moves the light to agree with the meter", () => {
    const request = { filters: kit, ...settings, light: evening, wantedShutterSeconds: 30 };
    const asModelled = selectFilters(request);
    const darker = selectFilters({ ...request, ev100: 8, atMs: 0 });
    expect(asModelled.ev100).toBe(10);
    expect(darker.ev100).toBe(8);
    const startOf = ({ choices }: FilterSelection): number =>
      choices.find((choice) => choice.marks.join() === "6 stops")?.windows?.[0]?.endMs as number;
    // two stops darker is eight minutes earlier
    expect(startOf(asModelled) - startOf(darker)).toBeCloseTo(8 * MINUTE, -1);
    const byTime = selectFilters({ ...request, baseShutterSeconds: 0.5, atMs: 0 });
    expect(byTime.ev100).toBeCloseTo(8, 12);
  });

  it("has no window where the light never allows it", () => {
    const bright = lightCurveFromSamples([
      { instantMs: 0, ev100: 15 },
      { instantMs: 60 * MINUTE, ev100: 14 },
    ]);
    const { choices } = selectFilters({ filters: [nd(3)], ...settings, light: bright, wantedShutterSeconds: 30 });
    expect(choices.map(({ moments, windows }) => [moments?.kind, windows])).toEqual([
      ["always-shorter", []],
      ["always-shorter", []],
    ]);
  });
});

describe("outside the domain", () => {
  const good = { filters: kit, baseShutterSeconds: 1, wantedShutterSeconds: 8 };
  const settings = { aperture: 11, iso: 100 };
  it.each<[string, string, Parameters<typeof selectFilters>[0]]>([
    ["filters", "out-of-range", { ...good, filters: [] }],
    ["filters", "out-of-range", { ...good, filters: Array.from({ length: 40 }, () => nd(1)) }],
    ["filters.0", "out-of-range", { ...good, filters: [{ kind: "nd" }] }],
    ["wantedShutterSeconds", "out-of-range", { filters: kit, baseShutterSeconds: 1 }],
    ["wantedShutterSeconds", "out-of-range", { ...good, wantedShutterSeconds: 0 }],
    ["wantedShutterSeconds", "out-of-range", { ...good, wantedRangeSeconds: { min: 1, max: 2 } }],
    [
      "wantedRangeSeconds.min",
      "out-of-range",
      { filters: kit, baseShutterSeconds: 1, wantedRangeSeconds: { min: 4, max: 2 } },
    ],
    ["baseShutterSeconds", "out-of-range", { filters: kit, wantedShutterSeconds: 8 }],
    ["baseShutterSeconds", "out-of-range", { filters: kit, wantedShutterSeconds: 8, ...settings }],
    ["maxStacked", "out-of-range", { ...good, maxStacked: 5 }],
    ["maxStacked", "out-of-range", { ...good, maxStacked: 1.5 }],
    ["maxChoices", "out-of-range", { ...good, maxChoices: 0 }],
    ["toleranceStops", "out-of-range", { ...good, toleranceStops: -1 }],
    ["atMs", "out-of-range", { ...good, atMs: 0 }],
    ["iso", "out-of-range", { filters: kit, wantedShutterSeconds: 8, light: evening, aperture: 8 }],
    ["atMs", "impossible", { filters: kit, wantedShutterSeconds: 8, light: evening, ...settings, atMs: -1 }],
    ["wantedShutterSeconds", "impossible", { filters: kit, wantedShutterSeconds: 7200, light: evening, ...settings }],
  ])("refuses %s (%s)", (param, code, request) => {
    expect(() => selectFilters(request)).toThrow(expect.objectContaining({ name: "DomainError", param, code }));
  });

  it("judges the size of the kit before it looks at any filter", () => {
    const filters = new Array<Filter>(100_000);
    expect(() => selectFilters({ ...good, filters })).toThrow(expect.objectContaining({ param: "filters" }));
  });
});
