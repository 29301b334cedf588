import { type LightCurve, LightSums, lightCurveFromSamples, lightGathered } from "@fieldstop/core/exposure";
import fc from "fast-check";
import { afterEach, describe, expect, it, vi } from "vitest";

const DUSK_MS = Date.UTC(2027, 2, 20, 18);

afterEach(() => void vi.restoreAllMocks());

/** Curves of 2 to 300 samples, from a thousandth of a second to an hour apart, over the whole range of light. */
const curves: fc.Arbitrary<LightCurve> = fc
  .array(fc.tuple(fc.integer({ min: 1, max: 3_600_000 }), fc.double({ min: -40, max: 40, noNaN: true })), {
    minLength: 2,
    maxLength: 300,
  })
  .map((steps) => {
    let instantMs = DUSK_MS;
    const samples = steps.map(([apartMs, ev100]) => {
      instantMs += apartMs;
      return { instantMs, ev100 };
    });
    return lightCurveFromSamples(samples);
  });
const share = fc.double({ min: 0, max: 1, noNaN: true });

const relative = (actual: number, expected: number): number =>
  actual === expected ? 0 : Math.abs(actual / expected - 1);

const steepestStopsPerSecond = ({ instantsMs, ev100 }: LightCurve): number =>
  Math.max(
    ...ev100.slice(1).map((level, i) => {
      const apartMs = (instantsMs[i + 1] as number) - (instantsMs[i] as number);
      return (1000 * Math.abs(level - (ev100[i] as number))) / apartMs;
    }),
  );

describe("@examples", () => {
  it("answer as documented", () => {
    const dusk = new LightSums(
      lightCurveFromSamples([
        { instantMs: 0, ev100: 3 },
        { instantMs: 600_000, ev100: 3 },
      ]),
    );
    expect(dusk.gathered(60_000, 30)).toBe(240);
  });
});

describe("LightSums", () => {
  it("gather what the curve gathers piece by piece, whatever part of it", () => {
    fc.assert(
      fc.property(curves, share, share, (curve, from, part) => {
        const fromMs = curve.startMs + from * (curve.endMs - curve.startMs);
        const seconds = (part * (curve.endMs - fromMs)) / 1000;
        const difference = relative(
          new LightSums(curve).gathered(fromMs, seconds),
          lightGathered(curve, fromMs, seconds),
        );
        // piece by piece the time that is left loses a last bit each, which counts by how steep the light is where it ends
        const lostSeconds = curve.instantsMs.length * Number.EPSILON * seconds;
        expect(difference).toBeLessThan(1e-12 + lostSeconds * steepestStopsPerSecond(curve));
      }),
      { numRuns: 2000 },
    );
  });

  it("keep the digits of a dark end after a bright beginning", () => {
    // ∫ 2^(30 − t/10) dt, whose last tenth of a second gives 2^-60 of the first
    const samples = Array.from({ length: 601 }, (_, i) => ({ instantMs: i * 1000, ev100: 30 - i / 10 }));
    const rate = Math.LN2 / 10;
    const exact = (2 ** 30 * Math.exp(-rate * 590.5) * -Math.expm1(-rate * 9.4)) / rate;
    expect(relative(new LightSums(lightCurveFromSamples(samples)).gathered(590_500, 9.4), exact)).toBeLessThan(1e-12);
  });

  it("take samples as both ends of what is asked for", () => {
    const samples = Array.from({ length: 9 }, (_, i) => ({ instantMs: DUSK_MS + i * 100, ev100: 5 }));
    const sums = new LightSums(lightCurveFromSamples(samples));
    for (let from = 0; from < 8; from++) {
      for (let to = from; to <= 8; to++) {
        expect(sums.gathered(DUSK_MS + from * 100, (to - from) / 10)).toBeCloseTo(3.2 * (to - from), 12);
      }
    }
  });

  it("refuse what lies outside the curve, as it does", () => {
    const curve = lightCurveFromSamples([
      { instantMs: 0, ev100: 5 },
      { instantMs: 60_000, ev100: 4 },
    ]);
    const sums = new LightSums(curve);
    for (const [fromMs, seconds] of [
      [-1, 1],
      [60_001, 1],
      [0, 61],
      [0, -1],
      [0, Number.NaN],
    ] as const) {
      expect(() => lightGathered(curve, fromMs, seconds)).toThrow();
      expect(() => sums.gathered(fromMs, seconds)).toThrow();
    }
  });

  it("look into two pieces at most, however many lie between", () => {
    const samples = Array.from({ length: 2000 }, (_, i) => ({ instantMs: i * 1000, ev100: 12 - i / 100 }));
    const sums = new LightSums(lightCurveFromSamples(samples));
    const integrals = vi.spyOn(Math, "expm1");
    sums.gathered(500, 1998);
    expect(integrals).toHaveBeenCalledTimes(2);
  });
});
