import { type FocusStackRequest, planFocusStack } from "@fieldstop/core/optics";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const rocks: FocusStackRequest = {
  sensor: "full-frame",
  focalLengthMm: 24,
  aperture: 8,
  circleOfConfusionMm: 0.03,
  nearM: 0.3,
};

const requests = fc
  .record({
    focalLengthMm: fc.double({ min: 12, max: 200, noNaN: true }),
    aperture: fc.constantFrom(2.8, 5.6, 8, 11, 16),
    nearest: fc.double({ min: 8, max: 400, noNaN: true }),
    deeper: fc.option(fc.double({ min: 1, max: 100, noNaN: true })),
    // more overlap, this near and this wide open, is refused as past the most frames
    overlap: fc.double({ min: 0, max: 0.4, noNaN: true }),
  })
  .map(({ nearest, deeper, focalLengthMm, ...rest }): FocusStackRequest & { nearM: number } => {
    const nearM = (nearest * focalLengthMm) / 1000;
    return { ...rest, sensor: "full-frame", focalLengthMm, nearM, farM: deeper === null ? "infinity" : nearM * deeper };
  });

describe("@examples", () => {
  it("answer as documented", () => {
    const { frames } = planFocusStack({ sensor: "full-frame", focalLengthMm: 24, aperture: 11, nearM: 0.4 });
    expect(frames.map(({ focusDistanceM }) => Number(focusDistanceM.toFixed(3)))).toEqual([0.493, 0.79, 2.038]);
  });
});

describe("planFocusStack", () => {
  it("holds everything from near to far, with the overlap and no gap", () => {
    fc.assert(
      fc.property(requests, (request) => {
        const { frames, count, maxBlurMm, circleOfConfusionMm, overlap } = planFocusStack(request);
        expect(frames).toHaveLength(count);
        expect(maxBlurMm).toBeLessThanOrEqual(circleOfConfusionMm * (1 + 1e-9));
        expect((frames[0]?.nearM as number) / request.nearM).toBeLessThanOrEqual(1 + 1e-6);
        const last = frames.at(-1)?.far;
        if (request.farM === "infinity") expect(last?.kind).toBe("infinity");
        else if (last?.kind === "distance") {
          expect(last.distanceM / (request.farM as number)).toBeGreaterThanOrEqual(1 - 1e-6);
        }
        for (let i = 1; i < frames.length; i++) {
          const [nearer, farther] = [frames[i - 1], frames[i]];
          expect(nearer?.far.kind).toBe("distance");
          const shared = 1 / (farther?.nearM as number) - 1 / (nearer?.far.distanceM as number);
          const farEnd = farther?.far.distanceM;
          const whole = 1 / (farther?.nearM as number) - (farEnd === null ? 0 : 1 / (farEnd as number));
          expect(shared / whole).toBeCloseTo(overlap, 5);
        }
      }),
    );
  });

  it("holds the near end where the most frames only just reach it", () => {
    for (const focalLengthMm of [60, 80, 110, 150, 200]) {
      for (const overlap of [0.6, 0.69, 0.7, 0.72, 0.8]) {
        const wide = { sensor: "full-frame", aperture: 2.8, focalLengthMm, overlap, farM: "infinity" } as const;
        // the nearest end that is not refused, to the last digit that this machine's arithmetic tells apart
        let refused = 0.21;
        let held = 20;
        for (let i = 0; i < 80; i++) {
          const middle = (refused + held) / 2;
          try {
            planFocusStack({ ...wide, nearM: middle });
            held = middle;
          } catch {
            refused = middle;
          }
        }
        const { frames, count } = planFocusStack({ ...wide, nearM: held });
        expect(count).toBe(300);
        expect((frames[0]?.nearM as number) / held).toBeCloseTo(1, 6);
      }
    }
  });

  it("takes no frame too many: with one fewer something would be blurred", () => {
    let several = 0;
    fc.assert(
      fc.property(requests, (request) => {
        const { count, circleOfConfusionMm } = planFocusStack(request);
        fc.pre(count > 1);
        several++;
        // with a circle so large that one frame fewer just does, that circle is larger than the one allowed
        let low = circleOfConfusionMm;
        let high = 2;
        for (let i = 0; i < 60; i++) {
          const middle = (low + high) / 2;
          if (planFocusStack({ ...request, circleOfConfusionMm: middle }).count < count) high = middle;
          else low = middle;
        }
        expect(high).toBeGreaterThan(circleOfConfusionMm);
      }),
      { numRuns: 30 },
    );
    expect(several).toBeGreaterThan(10);
  });

  it("is a single frame, evenly focused, where that is enough", () => {
    const { frames, maxBlurMm, singleFrame } = planFocusStack({ ...rocks, nearM: 2, farM: 6 });
    expect(frames).toHaveLength(1);
    expect(frames[0]?.focusDistanceM).toBeCloseTo(3, 6);
    expect(maxBlurMm).toBeLessThan(0.03);
    expect(singleFrame.apertureNeeded).toBeCloseTo((8 * maxBlurMm) / 0.03, 6);
  });

  it("begins with the nearest, and takes more frames as the opening widens", () => {
    const { frames } = planFocusStack(rocks);
    const distances = frames.map(({ focusDistanceM }) => focusDistanceM);
    expect(distances).toEqual([...distances].sort((a, b) => a - b));
    const count = (aperture: number): number => planFocusStack({ ...rocks, aperture }).count;
    expect(count(2.8)).toBeGreaterThan(count(8));
    expect(count(8)).toBeGreaterThan(count(16));
  });

  it("says when one frame would do, and when diffraction spoils the whole", () => {
    const codes = (request: FocusStackRequest): string[] => planFocusStack(request).warnings.map(({ code }) => code);
    expect(codes({ ...rocks, nearM: 0.8 })).toEqual(["one-frame-would-do"]);
    expect(codes(rocks)).toEqual([]);
    expect(codes({ ...rocks, aperture: 32 })).toContain("diffraction-softens");
  });

  it("says what it took for granted", () => {
    const fields = planFocusStack(rocks).assumptions.map(({ field }) => field);
    expect(fields).toEqual(["farM", "overlap"]);
  });

  it.each<[string, string, Partial<FocusStackRequest>]>([
    ["nearM", "out-of-range", { nearM: 0.024 }],
    ["nearM", "out-of-range", { nearM: Number.NaN }],
    ["farM", "out-of-range", { nearM: 5, farM: 2 }],
    ["overlap", "out-of-range", { overlap: 0.95 }],
    ["aperture", "out-of-range", { aperture: 0 }],
    ["nearM", "impossible", { focalLengthMm: 600, aperture: 1.4, nearM: 1 }],
  ])("refuses %s (%s) of %j", (param, code, bad) => {
    expect(() => planFocusStack({ ...rocks, ...bad })).toThrow(
      expect.objectContaining({ name: "DomainError", param, code }),
    );
  });
});
