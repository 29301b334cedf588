import {
  lightCurveFromModel,
  lightCurveFromSamples,
  secondsUntilGathered,
  whenShutterComesAbout,
} from "@fieldstop/core/exposure";
import { reachFinder } from "@fieldstop/core/filters";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const MINUTE = 60_000;
const settings = { aperture: 8, iso: 100 };
const needed = (attenuationStops: number): number => 64 * 2 ** attenuationStops;

// an evening on Ardvane: a stop every four minutes, from EV100 10
const evening = lightCurveFromModel((ms) => 10 - ms / (4 * MINUTE), 0, 60 * MINUTE);

describe("@examples", () => {
  it("answer as documented", () => {
    const [window] = reachFinder(evening, { aperture: 11, iso: 100 }, { min: 20, max: 45 })(6).windows;
    expect((window?.startMs as number) / MINUTE).toBeCloseTo(5.09, 1);
    expect((window?.endMs as number) / MINUTE).toBeCloseTo(9.59, 1);
  });
});

describe("reachFinder", () => {
  it("opens and closes where the right time crosses the ends of the range", () => {
    const stops = fc.double({ min: 0, max: 12, noNaN: true });
    const perMinute = fc.double({ min: 0.05, max: 1, noNaN: true });
    let opened = 0;
    fc.assert(
      fc.property(stops, perMinute, (attenuationStops, rate) => {
        const light = lightCurveFromModel((ms) => 12 - (rate * ms) / MINUTE, 0, 40 * MINUTE);
        const range = { min: 4, max: 20 };
        const rightTime = (atMs: number): number | undefined =>
          secondsUntilGathered(light, atMs, needed(attenuationStops));
        const windows = reachFinder(light, settings, range)(attenuationStops).windows;
        expect(windows.length).toBeLessThanOrEqual(1);
        for (const { startMs, endMs } of windows) {
          opened++;
          if (startMs > light.startMs) expect(rightTime(startMs)).toBeCloseTo(range.min, 3);
          if (endMs < light.endMs - 20_000) expect(rightTime(endMs)).toBeCloseTo(range.max, 3);
          const middle = rightTime((startMs + endMs) / 2) as number;
          expect(middle).toBeGreaterThanOrEqual(range.min - 1e-6);
          expect(middle).toBeLessThanOrEqual(range.max + 1e-6);
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
    const windows = reachFinder(light, settings, { min: 4, max: 10 })(6).windows;
    expect(windows).toHaveLength(2);
    expect(windows[0]?.endMs).toBeLessThan(10 * MINUTE);
    expect(windows[1]?.startMs).toBeGreaterThan(10 * MINUTE - 10_000);
  });

  it("opens and closes as well for shutters of a quarter of an hour", () => {
    const range = { min: 600, max: 1200 };
    const windows = reachFinder(evening, settings, range)(4).windows;
    expect(windows).toHaveLength(1);
    for (const [atMs, seconds] of [
      [windows[0]?.startMs, 600],
      [windows[0]?.endMs, 1200],
    ]) {
      const right = secondsUntilGathered(evening, atMs as number, needed(4)) as number;
      // the millisecond to which an edge is known is worth more of a shutter time that grows fast
      expect(right / (seconds as number)).toBeCloseTo(1, 4);
    }
  });

  it("is the whole time, as far as can be judged, in a steady light that suits", () => {
    const light = lightCurveFromSamples([
      { instantMs: 0, ev100: 6 },
      { instantMs: 10 * MINUTE, ev100: 6 },
    ]);
    const range = { min: 5, max: 20 };
    expect(reachFinder(light, settings, range)(3).windows).toEqual([{ startMs: 0, endMs: 10 * MINUTE - 20_000 }]);
    expect(reachFinder(light, settings, range)(0).windows).toEqual([]);
    expect(reachFinder(light, settings, { min: 5, max: 700 })(3).windows).toEqual([]);
  });

  it("finds the moments of the time aimed at, as the long exposure does", () => {
    const reach = reachFinder(evening, settings, { min: 20, max: 45, target: 32 });
    let crossed = 0;
    for (let attenuationStops = 0; attenuationStops <= 20; attenuationStops++) {
      const { moments } = reach(attenuationStops);
      const expected = whenShutterComesAbout(evening, { ...settings, attenuationStops }, 32);
      expect(moments?.kind).toBe(expected.kind);
      if (moments?.kind !== "crosses" || expected.kind !== "crosses") continue;
      crossed++;
      expect(moments.moments).toHaveLength(expected.moments.length);
      moments.moments.forEach(({ startMs, direction }, i) => {
        expect(direction).toBe(expected.moments[i]?.direction);
        // both are found to the millisecond
        expect(Math.abs(startMs - (expected.moments[i]?.startMs as number))).toBeLessThanOrEqual(2);
      });
    }
    expect(crossed).toBeGreaterThanOrEqual(8);
    expect(reachFinder(evening, settings, { min: 20, max: 45 })(6)).not.toHaveProperty("moments");
  });

  it("has no answer for a time that the light is not known for", () => {
    const aim = () => reachFinder(evening, settings, { min: 1, max: 7200, target: 7200 });
    expect(aim).toThrow(expect.objectContaining({ code: "impossible", param: "wantedShutterSeconds" }));
  });
});
