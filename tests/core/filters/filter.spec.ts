import { type Filter, readFilter } from "@fieldstop/core/filters";
import { describe, expect, it } from "vitest";

describe("@examples", () => {
  it("answer as documented", () => {
    expect(readFilter({ kind: "nd", factor: 1000 })).toEqual({
      kind: "nd",
      attenuationStops: expect.closeTo(9.966, 3),
      graduatedStops: 0,
      mark: "ND1000",
      markedStops: 10,
    });
  });
});

describe("readFilter", () => {
  it.each<[Filter, string, number]>([
    [{ kind: "nd", stops: 10 }, "10 stops", 10],
    [{ kind: "nd", stops: 1 }, "1 stop", 1],
    [{ kind: "nd", stops: 9.9 }, "9.9 stops", 9.9],
    [{ kind: "nd", density: 3 }, "density 3.0", 10],
    [{ kind: "nd", density: 0.9 }, "density 0.9", 3],
    [{ kind: "nd", transmittancePercent: 12.5 }, "12.5 %", 3],
    [{ kind: "polarizer", lossStops: 1.7 }, "polarizer", 1.7],
  ])("keeps the mark of %j", (filter, mark, markedStops) => {
    expect(readFilter(filter)).toMatchObject({ mark, markedStops });
  });

  it("counts a graduated filter for the sky alone", () => {
    expect(readFilter({ kind: "graduated", density: 0.9, transition: "soft" })).toEqual({
      kind: "graduated",
      attenuationStops: 0,
      graduatedStops: expect.closeTo(2.98974, 5),
      mark: "density 0.9",
      markedStops: 3,
      transition: "soft",
    });
  });

  it("says that it took the usual loss of a polarizer", () => {
    const assumptions: { field: string }[] = [];
    expect(readFilter({ kind: "polarizer" }, "filters.2", assumptions as never).attenuationStops).toBe(1.5);
    expect(assumptions).toEqual([expect.objectContaining({ field: "filters.2.lossStops", value: 1.5 })]);
    readFilter({ kind: "polarizer", lossStops: 1.5 }, "filters.3", assumptions as never);
    expect(assumptions).toHaveLength(1);
  });

  it.each<[string, unknown]>([
    ["filters.0", { kind: "nd" }],
    ["filters.0", { kind: "nd", density: 0.9, factor: 8 }],
    ["filters.0.stops", { kind: "nd", stops: 21 }],
    ["filters.0.stops", { kind: "nd", stops: -1 }],
    ["filters.0.density", { kind: "nd", density: Number.POSITIVE_INFINITY }],
    ["filters.0.factor", { kind: "graduated", factor: 0, transition: "soft" }],
    ["filters.0.transmittancePercent", { kind: "nd", transmittancePercent: 0 }],
    ["filters.0.transition", { kind: "graduated", stops: 2, transition: "steep" }],
    ["filters.0.lossStops", { kind: "polarizer", lossStops: -1 }],
    ["filters.0.kind", { kind: "infrared", stops: 3 }],
  ])("refuses %s of %j", (param, filter) => {
    expect(() => readFilter(filter as Filter, "filters.0")).toThrow(
      expect.objectContaining({ name: "DomainError", param }),
    );
  });

  it("names the strengths that contradict each other", () => {
    expect(() => readFilter({ kind: "nd", density: 0.9, factor: 8 })).toThrow(/"density and factor".*exactly one of/);
  });
});
