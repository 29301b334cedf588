import {
  apertureSeries,
  isoSeries,
  nearestApertureMark,
  nearestIsoMark,
  nearestShutterMark,
  type SeriesStep,
  shutterSeries,
} from "@fieldstop/core/exposure";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const STEPS: readonly SeriesStep[] = ["full", "half", "third"];
const PER_STOP = { full: 1, half: 2, third: 3 } as const;
const DIALS = [
  {
    name: "aperture",
    series: apertureSeries,
    nearest: nearestApertureMark,
    count: 18,
    stops: (x: number) => 2 * Math.log2(x),
  },
  { name: "shutter", series: shutterSeries, nearest: nearestShutterMark, count: 34, stops: Math.log2 },
  { name: "iso", series: isoSeries, nearest: nearestIsoMark, count: 20, stops: Math.log2 },
] as const;

describe("@examples", () => {
  it("answer as documented", () => {
    expect(apertureSeries("full")[9]?.text).toBe("f/11");
    expect(shutterSeries("full")[9]?.text).toBe("1/125 s");
    expect(isoSeries("full")[5]?.text).toBe("ISO 100");
    expect(nearestApertureMark(11.3).text).toBe("f/11");
    expect(nearestShutterMark(31).text).toBe("30 s");
    expect(nearestIsoMark(1270).text).toBe("ISO 1250");
  });
});

describe.each(DIALS)("the $name series", ({ series, nearest, count, stops }) => {
  it.each(STEPS)("in %s stops is whole, ascends, and each mark is its own nearest", (step) => {
    const marks = series(step);
    expect(marks).toHaveLength(count * PER_STOP[step] + 1);
    for (let i = 0; i < marks.length; i++) {
      const mark = marks[i]!;
      expect(nearest(mark.exact, step)).toBe(mark);
      if (i > 0) {
        expect(mark.value).toBeGreaterThan(marks[i - 1]!.value);
        expect(stops(mark.exact) - stops(marks[i - 1]!.exact)).toBeCloseTo(1 / PER_STOP[step], 9);
      }
    }
  });

  it.each(STEPS)("in %s stops has no mark further than a quarter of a stop from what it stands for", (step) => {
    for (const { value, exact, text } of series(step)) {
      expect(Math.abs(stops(value) - stops(exact)), text).toBeLessThan(0.25);
    }
  });

  it.each(STEPS)("in %s stops is frozen", (step) => {
    expect(Object.isFrozen(series(step))).toBe(true);
    expect(Object.isFrozen(series(step)[0])).toBe(true);
  });

  it("gives the mark nearest in stops", () => {
    const marks = series("third");
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1, noNaN: true }), (share) => {
        const [low, high] = [marks[0]!.exact, marks.at(-1)!.exact];
        const exact = low * (high / low) ** share;
        const found = nearest(exact);
        const distance = (mark: { exact: number }): number => Math.abs(stops(mark.exact) - stops(exact));
        expect(distance(found)).toBeLessThanOrEqual(Math.min(...marks.map(distance)) + 1e-9);
      }),
    );
  });
});

describe("marks", () => {
  it("keep full shutter stops as cameras write them: 1/2 in whole stops, 0.5 in thirds", () => {
    expect(nearestShutterMark(0.5, "full").text).toBe("1/2 s");
    expect(nearestShutterMark(0.5, "third").text).toBe("0.5 s");
    expect(nearestShutterMark(0.5, "half").text).toBe("0.5 s");
  });

  it("reach into minutes", () => {
    expect(nearestShutterMark(64).text).toBe("60 s");
    expect(nearestShutterMark(128)).toMatchObject({ text: "2 min", value: 120, exact: 128 });
    expect(nearestShutterMark(2 ** 18).text).toBe("4096 min");
  });

  it("are made by the same rule past the ends", () => {
    expect(nearestShutterMark(2 ** -17)).toEqual({ exact: 2 ** -17, value: 1 / 130_000, text: "1/130000 s" });
    expect(nearestShutterMark(2 ** 20)).toEqual({ exact: 2 ** 20, value: 17_000 * 60, text: "17000 min" });
    expect(nearestApertureMark(512)).toEqual({ exact: 512, value: 510, text: "f/510" });
    expect(nearestApertureMark(0.25)).toEqual({ exact: 0.25, value: 0.25, text: "f/0.25" });
    expect(nearestIsoMark(100 * 2 ** 16)).toEqual({ exact: 6_553_600, value: 6_600_000, text: "ISO 6600000" });
  });
});
