import { alternatingExtremes, type TideExtreme } from "@fieldstop/core/water";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const extreme = (kind: "high" | "low", instantMs: number, heightM: number): TideExtreme => ({
  kind,
  instantMs,
  heightM,
});

describe("@examples", () => {
  it("drops the ripple's low", () => {
    const list = [extreme("low", 0, 0.2), extreme("low", 1, 0.5), extreme("high", 2, 1.1)];
    expect(alternatingExtremes(list)).toEqual([list[0], list[2]]);
  });
});

describe("alternatingExtremes", () => {
  it("keeps the higher of two highs, whichever comes first", () => {
    const [one, other] = [extreme("high", 0, 1), extreme("high", 1, 2)] as const;
    expect(alternatingExtremes([one, other])).toEqual([other]);
    expect(alternatingExtremes([{ ...other, instantMs: -1 }, one])).toEqual([{ ...other, instantMs: -1 }]);
  });

  it("leaves in order, and in turn, and loses neither the highest high nor the lowest low", () => {
    const any = fc.record({ kind: fc.constantFrom("high" as const, "low" as const), heightM: fc.integer() });
    fc.assert(
      fc.property(fc.array(any, { minLength: 1, maxLength: 30 }), (list) => {
        const all = list.map(({ kind, heightM }, i) => extreme(kind, i, heightM));
        const kept = alternatingExtremes(all);
        for (const [i, { kind, instantMs }] of kept.entries()) {
          const before = kept[i - 1];
          if (before === undefined) continue;
          expect(before.kind).not.toBe(kind);
          expect(before.instantMs).toBeLessThan(instantMs);
        }
        const heights = (of: readonly TideExtreme[], kind: string): number[] =>
          of.filter((one) => one.kind === kind).map(({ heightM }) => heightM);
        expect(Math.max(...heights(kept, "high"))).toBe(Math.max(...heights(all, "high")));
        expect(Math.min(...heights(kept, "low"))).toBe(Math.min(...heights(all, "low")));
        expect(alternatingExtremes(kept)).toEqual(kept);
      }),
    );
  });
});
