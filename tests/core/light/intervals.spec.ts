import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Interval, lengthOf, overlap, positiveBetween } from "../../../packages/core/src/light/intervals";

/** Stretches in order, none touching the next, on whole numbers. */
const stretches = fc
  .uniqueArray(fc.integer({ min: 0, max: 400 }), { maxLength: 40 })
  .map((ends) => ends.sort((a, b) => a - b))
  .map((ends) =>
    ends.flatMap((a, i): Interval[] => (i % 2 === 0 && i + 1 < ends.length ? [[a, ends[i + 1] as number]] : [])),
  );
const holds = (intervals: readonly Interval[], x: number): boolean => intervals.some(([a, b]) => a < x && x < b);

describe("intervals", () => {
  it("overlap where both hold, in order", () => {
    fc.assert(
      fc.property(stretches, stretches, (one, other) => {
        const common = overlap(one, other);
        for (let x = 0.5; x < 400; x++) expect(holds(common, x)).toBe(holds(one, x) && holds(other, x));
        for (const [i, [a, b]] of common.entries()) {
          expect(b).toBeGreaterThan(a);
          if (i > 0) expect(a).toBeGreaterThanOrEqual((common[i - 1] as Interval)[1]);
        }
        expect(overlap(other, one)).toEqual(common);
        expect(lengthOf(common)).toBeLessThanOrEqual(Math.min(lengthOf(one), lengthOf(other)));
      }),
    );
  });

  it("are where a curve is positive, from its crossings", () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.integer({ min: 1, max: 99 }), { maxLength: 20 }),
        fc.boolean(),
        (places, startsPositive) => {
          const xs = places.sort((a, b) => a - b);
          const crossings = xs.map((x, i) => ({
            x,
            direction: (i % 2 === 0) === startsPositive ? ("falling" as const) : ("rising" as const),
          }));
          const positive = positiveBetween(crossings, 0, 100, () => (startsPositive ? 1 : -1));
          for (let x = 0.5; x < 100; x++) {
            const changes = xs.filter((place) => place < x).length;
            expect(holds(positive, x)).toBe((changes % 2 === 0) === startsPositive);
          }
        },
      ),
    );
  });
});
