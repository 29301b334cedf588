import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { azimuthRanges } from "../../../packages/terrain/src/skylines/azimuth-ranges";

const tens = Array.from({ length: 36 }, (_, i) => i * 10);

describe("azimuthRanges", () => {
  it.each([
    [[], []],
    [[5], [[50, 50]]],
    [
      [1, 2, 3, 9],
      [
        [10, 30],
        [90, 90],
      ],
    ],
    [[0, 1, 34, 35], [[340, 10]]],
    [
      [0, 1, 20, 35],
      [
        [200, 200],
        [350, 10],
      ],
    ],
    [[0, 1], [[0, 10]]],
    [tens.map((_, i) => i), [[0, 360]]],
  ])("joins neighbours, also past north: %j", (indices, ranges) => {
    expect(azimuthRanges(tens, indices)).toEqual(ranges);
  });

  it("covers the azimuths in question and no others", () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.nat(35)), (some) => {
        const indices = [...some].sort((a, b) => a - b);
        const covered = tens.filter((azimuth) =>
          azimuthRanges(tens, indices).some(([from, to]) =>
            from <= to ? azimuth >= from && azimuth <= to : azimuth >= from || azimuth <= to,
          ),
        );
        expect(covered).toEqual(indices.map((index) => index * 10));
      }),
    );
  });
});
