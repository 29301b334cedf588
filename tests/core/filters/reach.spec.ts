import { lightCurveFromModel, lightCurveFromSamples, secondsUntilGathered } from "@fieldstop/core/exposure";
import { reachWindows } from "@fieldstop/core/filters";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const MINUTE = 60_000;
const settings = { aperture: 8, iso: 100 };
const needed = (attenuationStops: number): number => 64 * 2 ** attenuationStops;

describe("reachWindows", () => {
  it("opens and closes where the right time crosses the ends of the range", () => {
    const stops = fc.double({ min: 0, max: 12, noNaN: true });
    const perMinute = fc.double({ min: 0.05, max: 1, noNaN: true });
    let opened = 0;
    fc.assert(
      fc.property(stops, perMinute, (attenuationStops, rate) => {
        const light = lightCurveFromModel((ms) => 12 - (rate * ms) / MINUTE, 0, 40 * MINUTE);
        const range = { shortest: 4, longest: 20 };
        const rightTime = (atMs: number): number | undefined =>
          secondsUntilGathered(light, atMs, needed(attenuationStops));
        const windows = reachWindows(light, { ...settings, attenuationStops }, range);
        expect(windows.length).toBeLessThanOrEqual(1);
        for (const { startMs, endMs } of windows) {
          opened++;
          if (startMs > light.startMs) expect(rightTime(startMs)).toBeCloseTo(range.shortest, 3);
          if (endMs < light.endMs - 20_000) expect(rightTime(endMs)).toBeCloseTo(range.longest, 3);
          const middle = rightTime((startMs + endMs) / 2) as number;
          expect(middle).toBeGreaterThanOrEqual(range.shortest - 1e-6);
          expect(middle).toBeLessThanOrEqual(range.longest + 1e-6);
        }
      }),
    );
    expect(opened).toBeGreaterThan(10);
  });

  it("finds both stretches of a light that dims under a cloud and comes back", () => {
    const light = lightCurveFromSamples([
      { instantMs: 0, ev100: 12 },
      { instantMs: 10 * MINUTE, ev100: 7 },
      { instantMs: 20 * MINUTE, ev100: 12 },
      { instantMs: 30 * MINUTE, ev100: 12 },
    ]);
    const windows = reachWindows(light, { ...settings, attenuationStops: 6 }, { shortest: 4, longest: 10 });
    expect(windows).toHaveLength(2);
    expect(windows[0]?.endMs).toBeLessThan(10 * MINUTE);
    expect(windows[1]?.startMs).toBeGreaterThan(10 * MINUTE - 10_000);
  });

  it("is the whole time, as far as can be judged, in a steady light that suits", () => {
    const light = lightCurveFromSamples([
      { instantMs: 0, ev100: 6 },
      { instantMs: 10 * MINUTE, ev100: 6 },
    ]);
    const range = { shortest: 5, longest: 20 };
    expect(reachWindows(light, { ...settings, attenuationStops: 3 }, range)).toEqual([
      { startMs: 0, endMs: 10 * MINUTE - 20_000 },
    ]);
    expect(reachWindows(light, { ...settings, attenuationStops: 0 }, range)).toEqual([]);
    expect(reachWindows(light, { ...settings, attenuationStops: 3 }, { shortest: 5, longest: 700 })).toEqual([]);
  });
});
