import {
  ev100OnCurve,
  type LightSample,
  lightCurveFromModel,
  lightCurveFromSamples,
  lightGathered,
  secondsUntilGathered,
  shiftLightCurve,
} from "@fieldstop/core/exposure";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

describe("@examples", () => {
  it("answer as documented", () => {
    const samples = lightCurveFromSamples([
      { instantMs: 0, ev100: 10 },
      { instantMs: 600_000, ev100: 8 },
    ]);
    expect(ev100OnCurve(samples, 300_000)).toBe(9);
    const model = lightCurveFromModel((ms) => 12 - ms / 60_000, 0, 600_000);
    expect(ev100OnCurve(model, 600_000)).toBe(2);
  });
});

const HOUR_MS = 3_600_000;
const DUSK_MS = Date.UTC(2027, 2, 20, 18);

/** Gathered by a light that starts at EV100 `start` and changes by `slope` stops a second: ∫ 2^(start + slope·t) dt. */
const closedForm = (start: number, slope: number, seconds: number): number =>
  slope === 0 ? 2 ** start * seconds : (2 ** start * (2 ** (slope * seconds) - 1)) / (slope * Math.LN2);

const relative = (actual: number, expected: number): number => Math.abs(actual / expected - 1);

describe("lightGathered", () => {
  it("is exact for exponential decay, however it is sampled", () => {
    const slope = -1.5 / 60;
    for (const count of [2, 3, 61]) {
      const samples = Array.from({ length: count }, (_, i): LightSample => {
        const seconds = (1800 * i) / (count - 1);
        return { instantMs: DUSK_MS + seconds * 1000, ev100: 10 + slope * seconds };
      });
      const curve = lightCurveFromSamples(samples);
      for (const seconds of [0.001, 1, 47, 600, 1800]) {
        expect(relative(lightGathered(curve, DUSK_MS, seconds), closedForm(10, slope, seconds))).toBeLessThan(1e-9);
      }
    }
  });

  it("is within 0.1 % of decay that a model gives", () => {
    const slope = -0.8 / 60;
    const curve = lightCurveFromModel((ms) => 11 + (slope * (ms - DUSK_MS)) / 1000, DUSK_MS, DUSK_MS + HOUR_MS);
    expect(relative(lightGathered(curve, DUSK_MS, 1234), closedForm(11, slope, 1234))).toBeLessThan(1e-3);
  });

  it("is within 0.1 % of a curve that bends", () => {
    // light itself straight in time, so that its integral is known: L(t) = 2^8·(1 − 0.9·t/T)
    const T = 1800;
    const model = (ms: number): number => 8 + Math.log2(1 - (0.9 * (ms - DUSK_MS)) / 1000 / T);
    const curve = lightCurveFromModel(model, DUSK_MS, DUSK_MS + T * 1000);
    for (const t of [10, 400, 1799]) {
      const exact = 256 * (t - (0.45 * t * t) / T);
      expect(relative(lightGathered(curve, DUSK_MS, t), exact)).toBeLessThan(1e-3);
    }
  });

  it("adds up over neighbouring times", () => {
    const curve = lightCurveFromModel((ms) => 6 - 3 * Math.sin(ms / 400_000), 0, HOUR_MS);
    const time = fc.double({ min: 0, max: 1800, noNaN: true });
    fc.assert(
      fc.property(time, time, (a, b) => {
        const whole = lightGathered(curve, 0, a + b);
        expect(lightGathered(curve, 0, a) + lightGathered(curve, a * 1000, b)).toBeCloseTo(whole, 6);
      }),
    );
  });
});

describe("secondsUntilGathered", () => {
  const curve = lightCurveFromModel((ms) => 9 - ms / 90_000 + Math.sin(ms / 300_000), 0, HOUR_MS);

  it("is the inverse of lightGathered", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 1500, noNaN: true }),
        fc.double({ min: 1e-4, max: 2000, noNaN: true }),
        (from, seconds) => {
          const amount = lightGathered(curve, from * 1000, seconds);
          expect(relative(secondsUntilGathered(curve, from * 1000, amount)!, seconds)).toBeLessThan(1e-6);
        },
      ),
    );
  });

  it("has no answer where the curve ends before", () => {
    const all = lightGathered(curve, 0, 3600);
    expect(secondsUntilGathered(curve, 0, all * 0.999999)).toBeDefined();
    expect(secondsUntilGathered(curve, 0, all * 1.000001)).toBeUndefined();
  });

  it("keeps its digits in steady light and in short times", () => {
    const steady = lightCurveFromSamples([
      { instantMs: DUSK_MS, ev100: 4 },
      { instantMs: DUSK_MS + HOUR_MS, ev100: 4 },
    ]);
    expect(secondsUntilGathered(steady, DUSK_MS + 1, 16 / 8000)).toBeCloseTo(1 / 8000, 15);
  });
});

describe("curves", () => {
  it("are straight in stops between samples", () => {
    const curve = lightCurveFromSamples([
      { instantMs: 0, ev100: 10 },
      { instantMs: 600_000, ev100: 8 },
      { instantMs: 1_200_000, ev100: 2 },
    ]);
    expect([0, 300_000, 600_000, 900_000, 1_200_000].map((ms) => ev100OnCurve(curve, ms))).toEqual([10, 9, 8, 5, 2]);
    expect(ev100OnCurve(shiftLightCurve(curve, -1.5), 300_000)).toBe(7.5);
  });

  it("follow a model to the tolerance asked for", () => {
    const model = (ms: number): number => 5 + 6 * Math.tanh((HOUR_MS / 2 - ms) / 400_000);
    const curve = lightCurveFromModel(model, 0, HOUR_MS, 0.001);
    let worst = 0;
    for (let ms = 0; ms <= HOUR_MS; ms += 7919) worst = Math.max(worst, Math.abs(ev100OnCurve(curve, ms) - model(ms)));
    expect(worst).toBeLessThan(0.0015);
    expect(curve.instantsMs.length).toBeLessThan(2000);
  });

  it.each([
    ["samples", () => lightCurveFromSamples([{ instantMs: 0, ev100: 3 }])],
    [
      "samples.1.instantMs",
      () =>
        lightCurveFromSamples([
          { instantMs: 0, ev100: 3 },
          { instantMs: 0, ev100: 3 },
        ]),
    ],
    [
      "samples.1.ev100",
      () =>
        lightCurveFromSamples([
          { instantMs: 0, ev100: 3 },
          { instantMs: 1, ev100: Number.NaN },
        ]),
    ],
    ["light", () => lightCurveFromModel(() => Number.NEGATIVE_INFINITY, 0, 1000)],
    ["endMs", () => lightCurveFromModel(() => 3, 1000, 1000)],
  ])("name %s at fault", (param, call) => {
    expect(call).toThrow(expect.objectContaining({ name: "DomainError", param }));
  });

  it("have no light to tell of outside their span", () => {
    const curve = lightCurveFromModel(() => 3, 0, 1000);
    for (const call of [
      () => ev100OnCurve(curve, 1001),
      () => lightGathered(curve, -1, 1),
      () => lightGathered(curve, 500, 0.6),
      () => secondsUntilGathered(curve, 2000, 1),
    ]) {
      expect(call).toThrow(expect.objectContaining({ code: "impossible" }));
    }
  });
});
