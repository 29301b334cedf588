import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cubicAt, cubicSlopeAt, fitCubic, turningPoints, whereCubicIs } from "../../../packages/core/src/light/cubic";

const coefficient = fc.double({ min: -10, max: 10, noNaN: true });
const plain = ([a, b, c, d]: readonly number[], u: number): number =>
  (a as number) + (b as number) * u + (c as number) * u ** 2 + (d as number) * u ** 3;

const fitted = (coefficients: readonly number[]): Float64Array => {
  const cubic = new Float64Array(4);
  fitCubic(
    cubic,
    plain(coefficients, 0),
    plain(coefficients, 1 / 3),
    plain(coefficients, 2 / 3),
    plain(coefficients, 1),
  );
  return cubic;
};

describe("cubics", () => {
  it("through four points of a cubic are that cubic, and so is their slope", () => {
    fc.assert(
      fc.property(
        fc.tuple(coefficient, coefficient, coefficient, coefficient),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (of, u) => {
          const cubic = fitted(of);
          expect(cubicAt(cubic, u)).toBeCloseTo(plain(of, u), 9);
          expect(cubicSlopeAt(cubic, u)).toBeCloseTo(of[1] + 2 * of[2] * u + 3 * of[3] * u ** 2, 8);
        },
      ),
    );
  });

  it("turn where their slope changes its sign, and nowhere else", () => {
    fc.assert(
      fc.property(fc.tuple(coefficient, coefficient, coefficient, coefficient), (of) => {
        const cubic = fitted(of);
        const turns = turningPoints(cubic);
        for (const u of turns) expect(Math.abs(cubicSlopeAt(cubic, u))).toBeLessThan(1e-6);
        const ends = [0, ...turns, 1];
        for (let i = 1; i < ends.length; i++) {
          const [from, to] = [ends[i - 1] as number, ends[i] as number];
          const signs = new Set<number>();
          for (let k = 1; k < 20; k++) {
            const slope = cubicSlopeAt(cubic, from + ((to - from) * k) / 20);
            if (Math.abs(slope) > 1e-6) signs.add(Math.sign(slope));
          }
          expect(signs.size).toBeLessThan(2);
        }
      }),
    );
  });

  it.each([
    ["a cubic with two", [0, 1, -3, 2], [0.2113, 0.7887]],
    ["a parabola", [0, 1, -1, 0], [0.5]],
    ["a line", [1, 2, 0, 0], []],
    ["a constant", [3, 0, 0, 0], []],
    ["a cubic that turns beyond the piece", [0, 4, -1, 0], []],
  ])("%s", (_name, coefficients, turns) => {
    const found = turningPoints(Float64Array.from(coefficients));
    expect(found).toHaveLength(turns.length);
    for (const [i, turn] of turns.entries()) expect(found[i]).toBeCloseTo(turn, 4);
  });

  it("take a value where they are asked for it, from turn to turn", () => {
    fc.assert(
      fc.property(
        fc.tuple(coefficient, coefficient, coefficient, coefficient),
        fc.double({ min: 0.001, max: 0.999, noNaN: true }),
        (of, part) => {
          const cubic = fitted(of);
          const ends = [0, ...turningPoints(cubic), 1];
          for (let i = 1; i < ends.length; i++) {
            const [from, to] = [ends[i - 1] as number, ends[i] as number];
            const u = from + (to - from) * part;
            const found = whereCubicIs(cubic, cubicAt(cubic, u), from, to);
            expect(found).toBeGreaterThanOrEqual(from);
            expect(found).toBeLessThanOrEqual(to);
            expect(cubicAt(cubic, found)).toBeCloseTo(cubicAt(cubic, u), 7);
          }
        },
      ),
    );
  });
});
