import { lightInTideWindow, type TideCurve, tideCaution, tideHeightAt, tideWindows } from "@fieldstop/core/water";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const STEP_MS = 600_000;
const HOUR_MS = 3_600_000;
const PERIOD_MS = 12 * HOUR_MS;
// two metres either side of 2.5 m, high water at the start, twice a day
const heightsM = Array.from({ length: 149 }, (_, i) => 2.5 + 2 * Math.cos((2 * Math.PI * i * STEP_MS) / PERIOD_MS));
const curve: TideCurve = { startMs: 0, stepMs: STEP_MS, heightsM };
const DAY_MS = 24 * HOUR_MS;

describe("@examples", () => {
  it("splits a rising tide at the level", () => {
    const rising = { startMs: 0, stepMs: 600_000, heightsM: [1, 1.1, 1.2, 1.3] };
    const [under, over] = tideWindows(rising, 1.15, 0, 1_800_000);
    expect(under).toEqual({ water: "under", startMs: 0, endMs: expect.closeTo(900_000, -3) });
    expect(over).toEqual({ water: "over", startMs: under?.endMs, endMs: 1_800_000 });
  });

  it("cuts light to the window", () => {
    expect(
      lightInTideWindow({ water: "under", startMs: 0, endMs: 10 }, [{ kind: "golden-hour", startMs: 6, endMs: 14 }]),
    ).toEqual([{ kind: "golden-hour", startMs: 6, endMs: 10 }]);
  });
});

describe("tideWindows", () => {
  // by hand: 2.5 + 2 cos(x) = 3.5 at x = 60°, which is 2 h of 12
  it("finds where a cosine passes a level, to the second", () => {
    const windows = tideWindows(curve, 3.5, 0, DAY_MS);
    expect(windows.map(({ water }) => water)).toEqual(["over", "under", "over", "under", "over"]);
    const edges = windows.map(({ startMs }) => startMs).slice(1);
    for (const [i, hours] of [2, 10, 14, 22].entries()) {
      expect(Math.abs((edges[i] as number) - hours * HOUR_MS)).toBeLessThan(1000);
    }
  });

  it.each([
    [4.51, "under"],
    [0.49, "over"],
  ])("is one window where the water never reaches %d m", (levelM, water) => {
    expect(tideWindows(curve, levelM, 0, DAY_MS)).toEqual([{ water, startMs: 0, endMs: DAY_MS }]);
  });

  it("finds a tip that stands over the level for less than a step", () => {
    // cos(x) > 0.9995 for 3.6 min either side of high water, which falls between two heights here
    const between = {
      ...curve,
      heightsM: heightsM.map((_, i) => 2.5 + 2 * Math.cos((2 * Math.PI * (i - 36.5)) / 72)),
    };
    const windows = tideWindows(between, 4.499, 0, 10 * HOUR_MS);
    expect(windows.map(({ water }) => water)).toEqual(["under", "over", "under"]);
    expect((windows[1]?.endMs as number) - (windows[1]?.startMs as number)).toBeLessThan(STEP_MS);
  });

  it("fills the span, in turn under and over, with the water where it says", () => {
    const level = fc.double({ min: 0, max: 5, noNaN: true });
    const instant = fc.integer({ min: 0, max: DAY_MS });
    fc.assert(
      fc.property(level, instant, instant, (levelM, a, b) => {
        fc.pre(a !== b);
        const [startMs, endMs] = a < b ? [a, b] : [b, a];
        const windows = tideWindows(curve, levelM, startMs, endMs);
        expect(windows[0]?.startMs).toBe(startMs);
        expect(windows.at(-1)?.endMs).toBe(endMs);
        for (const [i, window] of windows.entries()) {
          if (i > 0) {
            expect(window.startMs).toBe(windows[i - 1]?.endMs);
            expect(window.water).not.toBe(windows[i - 1]?.water);
          }
          const over = tideHeightAt(curve, (window.startMs + window.endMs) / 2) > levelM;
          expect(over).toBe(window.water === "over");
        }
      }),
    );
  });

  it("gives less time under a lower level", () => {
    const under = (levelM: number): number =>
      tideWindows(curve, levelM, 0, DAY_MS)
        .filter(({ water }) => water === "under")
        .reduce((sum, { startMs, endMs }) => sum + endMs - startMs, 0);
    const levels = [0.4, 0.6, 1, 2, 2.5, 3, 4, 4.4, 4.6].map(under);
    expect(levels).toEqual([...levels].sort((a, b) => a - b));
    expect(levels[0]).toBe(0);
    expect(levels.at(-1)).toBe(DAY_MS);
  });

  it.each([
    ["levelM", () => tideWindows(curve, 31, 0, DAY_MS)],
    ["levelM", () => tideWindows(curve, Number.NaN, 0, DAY_MS)],
    ["endMs", () => tideWindows(curve, 1, DAY_MS, DAY_MS)],
    ["instantMs", () => tideWindows(curve, 1, -1, DAY_MS)],
  ])("refuses by name: %s", (param, ask) => {
    expect(ask).toThrow(expect.objectContaining({ name: "DomainError", param }));
  });
});

describe("lightInTideWindow", () => {
  it("shares each stretch of light out among the windows, and loses none of it", () => {
    const light = [
      { kind: "golden-hour", startMs: HOUR_MS, endMs: 3 * HOUR_MS },
      { kind: "blue-hour", startMs: 21.5 * HOUR_MS, endMs: 22.5 * HOUR_MS },
    ];
    const shared = tideWindows(curve, 3.5, 0, DAY_MS).map((window) => lightInTideWindow(window, light));
    expect(shared.map((part) => part.map(({ kind }) => kind))).toEqual([
      ["golden-hour"],
      ["golden-hour"],
      [],
      ["blue-hour"],
      ["blue-hour"],
    ]);
    const total = shared.flat().reduce((sum, { startMs, endMs }) => sum + endMs - startMs, 0);
    expect(total).toBe(3 * HOUR_MS);
  });
});

describe("tideCaution", () => {
  it("sends to the local tables and warnings", () => {
    expect(tideCaution().code).toBe("tide-and-swell");
    expect(tideCaution().text).toMatch(/not for navigation.*local tide tables and warnings/);
  });
});
