import { type BracketRequest, planBracket } from "@fieldstop/core/bracketing";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const camera = { aperture: 8, iso: 100, headroomStops: 3, footroomStops: 6, frameGapSeconds: 0.5 };
const plan = (request: Partial<BracketRequest>) =>
  planBracket({ shadowEv100: 3, highlightEv100: 16, camera, overlapStops: 1, ...request });
const codes = (list: readonly { code: string }[]): string[] => list.map(({ code }) => code);

describe("@examples", () => {
  it("answer as documented", () => {
    expect(planBracket({ shadowEv100: 3, highlightEv100: 16, camera: { aperture: 8, iso: 100 } }).count).toBe(3);
  });
});

describe("planBracket", () => {
  it("takes a single frame where one suffices, and says so", () => {
    const single = plan({ shadowEv100: 6, highlightEv100: 14 });
    expect(single).toMatchObject({
      count: 1,
      stepStops: 0,
      coverageStops: 9,
      sceneRangeStops: 8,
      warnings: [],
      assumptions: [],
    });
    expect(codes(single.reasons)).toEqual(["scene-range", "single-frame"]);
    expect(single.reasons[1]?.text).toContain("1 stop to spare");
    expect(single.frames[0]?.biasStops).toBe(0);
  });

  it("covers ±3 with seven frames at 1 EV, plus what the sensor holds", () => {
    const seven = plan({ shadowEv100: 3, highlightEv100: 18, stepStops: 1 });
    expect(seven.count).toBe(7);
    expect(seven.frames.map(({ biasStops }) => biasStops)).toEqual([-3, -2, -1, 0, 1, 2, 3]);
    expect(seven.coverageStops).toBe(6 + 9);
    expect(seven.coversEv100).toEqual([3, 18]);
    expect(codes(seven.reasons)).toEqual(["scene-range", "frames", "fewer-fall-short"]);
    expect(seven.reasons[2]?.text).toBe("5 frames at 1 EV reach only 4 stops.");
  });

  it("gives each frame its bias, exact and nominal time, and what it covers", () => {
    const { frames, baseEv100, totalSeconds, stepStops } = plan({});
    expect({ baseEv100, stepStops }).toEqual({ baseEv100: 11, stepStops: 2 });
    expect(frames).toEqual([
      { biasStops: -2, shutterSeconds: 1 / 128, nominal: "1/125 s", nominalSeconds: 1 / 125, coversEv100: [7, 16] },
      { biasStops: 0, shutterSeconds: 1 / 32, nominal: "1/30 s", nominalSeconds: 1 / 30, coversEv100: [5, 14] },
      { biasStops: 2, shutterSeconds: 1 / 8, nominal: "1/8 s", nominalSeconds: 1 / 8, coversEv100: [3, 12] },
    ]);
    expect(totalSeconds).toBeCloseTo(1 / 128 + 1 / 32 + 1 / 8 + 2 * 0.5, 12);
  });

  it("takes the fewest frames that cameras offer, at the smallest step that does it", () => {
    const chosen = (range: number) => {
      const { count, stepStops } = plan({ shadowEv100: 0, highlightEv100: range });
      return [count, Math.round(stepStops * 3)];
    };
    expect([9, 9.5, 11, 15, 15.1, 21, 21.1, 27, 33].map(chosen)).toEqual([
      [1, 0],
      [3, 1],
      [3, 3],
      [3, 9],
      [5, 5],
      [5, 9],
      [7, 7],
      [7, 9],
      [9, 9],
    ]);
  });

  it("keeps to the step and the counts asked for", () => {
    expect(plan({ stepStops: 1 })).toMatchObject({ count: 5, stepStops: 1 });
    expect(plan({ stepStops: 1, counts: "any", highlightEv100: 15 })).toMatchObject({ count: 4 });
    expect(plan({ counts: [7] })).toMatchObject({ count: 7, stepStops: 2 / 3 });
    expect(plan({ counts: [9, 5] })).toMatchObject({ count: 5, stepStops: 1 });
    expect(plan({ stepStops: 0.7 })).toMatchObject({ count: 7, stepStops: 2 / 3 });
    expect(plan({ stepStops: 0.3, counts: "any" })).toMatchObject({ count: 13, stepStops: 1 / 3 });
  });

  it("spreads frames that the scene does not ask for a stop apart, and says that one would do", () => {
    const spare = plan({ shadowEv100: 8, highlightEv100: 12, counts: [3] });
    expect(spare).toMatchObject({ count: 3, stepStops: 1 });
    expect(codes(spare.reasons)).toEqual(["scene-range", "one-would-do"]);
  });

  it("writes half stops as half stops", () => {
    const halves = plan({ stepStops: 0.5, counts: [9] });
    expect(halves.frames.map(({ nominal }) => nominal)).toEqual([
      "1/125 s",
      "1/90 s",
      "1/60 s",
      "1/45 s",
      "1/30 s",
      "1/20 s",
      "1/15 s",
      "1/10 s",
      "1/8 s",
    ]);
  });

  it("only varies the shutter, and lets filters lengthen it", () => {
    const bare = plan({});
    const dense = plan({ attenuationStops: 10 });
    expect(dense.frames.map(({ shutterSeconds }) => shutterSeconds)).toEqual(
      bare.frames.map(({ shutterSeconds }) => shutterSeconds * 1024),
    );
    expect(dense.coversEv100).toEqual(bare.coversEv100);
  });

  it("narrows the step to the overlap wanted", () => {
    const narrow = { ...camera, headroomStops: 2, footroomStops: 2 };
    expect(plan({ shadowEv100: 0, highlightEv100: 10, camera: narrow, overlapStops: 1 })).toMatchObject({
      count: 3,
      stepStops: 3,
    });
    expect(plan({ shadowEv100: 0, highlightEv100: 10, camera: narrow, overlapStops: 2 })).toMatchObject({
      count: 5,
      stepStops: 5 / 3,
    });
  });

  describe("with a metered exposure", () => {
    it("stays even about it where that costs nothing", () => {
      expect(plan({ meteredEv100: 11 })).toMatchObject({ count: 3, shiftStops: 0, baseEv100: 11 });
    });

    it("is shifted where that saves frames", () => {
      const shifted = plan({ meteredEv100: 9, stepStops: 1 });
      expect(shifted).toMatchObject({ count: 5, shiftStops: -2 });
      expect(shifted.frames.map(({ biasStops }) => biasStops)).toEqual([-4, -3, -2, -1, 0]);
      expect(codes(shifted.reasons)).toContain("shifted");
      const brighter = plan({ meteredEv100: 13, stepStops: 1 });
      expect(brighter.shiftStops).toBe(2);
    });

    it("takes more frames where it must be symmetric", () => {
      const even = plan({ meteredEv100: 9, stepStops: 1, symmetric: true });
      expect(even).toMatchObject({ count: 9, shiftStops: 0 });
      expect(even.coversEv100[1]).toBe(16);
    });

    it("rounds the meter to the dial", () => {
      const { baseEv100, assumptions } = plan({ meteredEv100: 11.1 });
      expect(baseEv100).toBe(11);
      expect(assumptions).toContainEqual(expect.objectContaining({ field: "meteredEv100", value: 11 }));
    });
  });

  describe("warns", () => {
    it("of times past 30 s", () => {
      const { warnings } = plan({ shadowEv100: -6, highlightEv100: 8, camera: { ...camera, aperture: 16 } });
      expect(warnings).toEqual([expect.objectContaining({ code: "needs-bulb", frames: [1, 2] })]);
      const patient = { ...camera, aperture: 16, maxShutterSeconds: 900 };
      expect(codes(plan({ shadowEv100: -6, highlightEv100: 8, camera: patient }).warnings)).toEqual([]);
    });

    it("of times shorter than the shutter", () => {
      const wide = { ...camera, aperture: 4, iso: 200 };
      const { warnings, frames } = plan({ shadowEv100: 6, highlightEv100: 20, camera: wide });
      expect(frames[0]?.shutterSeconds).toBeLessThan(1 / 8192);
      expect(warnings).toEqual([expect.objectContaining({ code: "faster-than-shutter", frames: [0] })]);
    });

    it("of light that drifts more than a third of a stop", () => {
      const dusk = { shadowEv100: -2, highlightEv100: 11 };
      const { totalSeconds } = plan(dusk);
      const limit = 20 / totalSeconds;
      expect(codes(plan({ ...dusk, lightStopsPerMinute: -limit * 1.01 }).warnings)).toEqual(["light-drift"]);
      expect(codes(plan({ ...dusk, lightStopsPerMinute: -limit * 0.99 }).warnings)).toEqual([]);
      expect(codes(plan({ ...dusk, lightStopsPerMinute: limit * 1.01 }).warnings)).toEqual(["light-drift"]);
    });

    it("of things that move too far between frames", () => {
      // middle to middle: 0.5 + (1/128 + 1/32)/2 and 0.5 + (1/32 + 1/8)/2
      const first = 0.5 + (1 / 128 + 1 / 32) / 2;
      const { warnings } = plan({ subject: { pxPerSecond: 10, budgetPx: first * 10 + 0.01 } });
      expect(warnings).toEqual([expect.objectContaining({ code: "subject-displacement", frames: [2] })]);
      expect(plan({ subject: { pxPerSecond: 10, budgetPx: 6 } }).warnings).toEqual([]);
      const motion = { speedMPerS: 0.01, distanceM: 10.05, focalLengthMm: 50, pixelPitchUm: 5 };
      expect(codes(plan({ subject: { motion, budgetPx: 5 } }).warnings)).toEqual(["subject-displacement"]);
      expect(plan({ subject: { motion, budgetPx: 6 } }).warnings).toEqual([]);
    });

    it("where the scene leaves no room for marks", () => {
      const tight = plan({ shadowEv100: 3.1, highlightEv100: 16.1 });
      expect(codes(tight.warnings)).toEqual(["between-marks"]);
      expect(tight.coversEv100[0]).toBeCloseTo(3.1, 9);
      expect(codes(plan({ shadowEv100: 3.1, highlightEv100: 15.7 }).warnings)).toEqual([]);
    });
  });

  it("says what it assumed of the camera", () => {
    const { assumptions } = planBracket({ shadowEv100: 5, highlightEv100: 15 });
    expect(assumptions.map(({ field }) => field).sort()).toEqual([
      "camera.aperture",
      "camera.footroomStops",
      "camera.frameGapSeconds",
      "camera.headroomStops",
      "camera.iso",
      "overlapStops",
    ]);
  });
});

describe("what always holds", () => {
  const ev = fc.double({ min: -8, max: 18, noNaN: true });
  const scene = fc.tuple(ev, ev).map(([a, b]) => ({ shadowEv100: Math.min(a, b), highlightEv100: Math.max(a, b) }));
  const sensor = fc.record({
    headroomStops: fc.double({ min: 1, max: 5, noNaN: true }),
    footroomStops: fc.double({ min: 2, max: 10, noNaN: true }),
  });

  it("the set holds the scene, without gaps, and fewer frames would not", () => {
    fc.assert(
      fc.property(scene, sensor, fc.constantFrom(undefined, 1 / 3, 0.5, 1, 2), (interval, latitude, stepStops) => {
        const request = {
          ...interval,
          camera: { ...camera, ...latitude },
          counts: "any",
          overlapStops: 0,
          ...(stepStops === undefined ? {} : { stepStops }),
        } as const;
        const { frames, count, coversEv100, coverageStops, totalSeconds } = planBracket(request);
        expect(coversEv100[0]).toBeLessThanOrEqual(interval.shadowEv100 + 1e-6);
        expect(coversEv100[1]).toBeGreaterThanOrEqual(interval.highlightEv100 - 1e-6);
        expect(frames).toHaveLength(count);
        expect(coverageStops).toBeCloseTo(coversEv100[1] - coversEv100[0], 9);
        for (let i = 1; i < count; i++) {
          expect(frames[i]!.biasStops).toBeGreaterThan(frames[i - 1]!.biasStops);
          expect(frames[i]!.coversEv100[1]).toBeGreaterThanOrEqual(frames[i - 1]!.coversEv100[0] - 1e-9);
          const ratio = Math.log2(frames[i]!.shutterSeconds / frames[i - 1]!.shutterSeconds);
          expect(ratio).toBeCloseTo(frames[i]!.biasStops - frames[i - 1]!.biasStops, 9);
        }
        const open = frames.reduce((sum, { shutterSeconds }) => sum + shutterSeconds, 0);
        expect(totalSeconds).toBeCloseTo(open + (count - 1) * camera.frameGapSeconds, 6);
        if (count > 1) expect(() => planBracket({ ...request, counts: [count - 1] })).toThrow();
      }),
    );
  });

  it("the set holds the scene about any metered exposure, shifted or even", () => {
    const metered = fc.double({ min: 2, max: 18, noNaN: true });
    fc.assert(
      fc.property(scene, sensor, metered, fc.boolean(), (interval, latitude, meteredEv100, symmetric) => {
        const { coversEv100, shiftStops, count } = planBracket({
          ...interval,
          meteredEv100,
          symmetric,
          camera: { ...camera, ...latitude },
          counts: "any",
          overlapStops: 0,
          stepStops: 1,
        });
        expect(coversEv100[0]).toBeLessThanOrEqual(interval.shadowEv100 + 1e-6);
        expect(coversEv100[1]).toBeGreaterThanOrEqual(interval.highlightEv100 - 1e-6);
        if (symmetric) expect(shiftStops).toBe(0);
        expect(count).toBeGreaterThanOrEqual(1);
      }),
    );
  });

  it("a wider scene never needs fewer frames", () => {
    fc.assert(
      fc.property(scene, fc.double({ min: 0, max: 4, noNaN: true }), (interval, more) => {
        const wider = { ...interval, highlightEv100: interval.highlightEv100 + more };
        const count = (request: typeof interval): number =>
          planBracket({ ...request, camera, counts: "any", stepStops: 1 }).count;
        expect(count(wider)).toBeGreaterThanOrEqual(count(interval));
      }),
    );
  });
});

describe("outside the domain", () => {
  it.each([
    ["shadowEv100", "out-of-range", { shadowEv100: Number.NaN }],
    ["highlightEv100", "out-of-range", { highlightEv100: 2 }],
    ["camera.aperture", "out-of-range", { camera: { ...camera, aperture: 0 } }],
    ["camera.iso", "out-of-range", { camera: { ...camera, iso: Number.NaN } }],
    ["camera.headroomStops", "out-of-range", { camera: { ...camera, headroomStops: 9 } }],
    ["camera.frameGapSeconds", "out-of-range", { camera: { ...camera, frameGapSeconds: -1 } }],
    ["stepStops", "out-of-range", { stepStops: 0.2 }],
    ["stepStops", "out-of-range", { stepStops: 3.1 }],
    ["counts", "out-of-range", { counts: [] }],
    ["counts.1", "out-of-range", { counts: [3, 2.5] }],
    ["counts.0", "out-of-range", { counts: [100] }],
    ["overlapStops", "out-of-range", { overlapStops: 13 }],
    ["attenuationStops", "out-of-range", { attenuationStops: -1 }],
    ["lightStopsPerMinute", "out-of-range", { lightStopsPerMinute: Number.NaN }],
    ["subject.pxPerSecond", "out-of-range", { subject: { pxPerSecond: -1, budgetPx: 1 } }],
    ["subject.budgetPx", "out-of-range", { subject: { pxPerSecond: 1, budgetPx: 0 } }],
    ["subject.pxPerSecond", "out-of-range", { subject: { budgetPx: 1 } }],
    [
      "subject.motion.distanceM",
      "out-of-range",
      { subject: { motion: { speedMPerS: 1, distanceM: 0, focalLengthMm: 50, pixelPitchUm: 5 }, budgetPx: 1 } },
    ],
    ["meteredEv100", "out-of-range", { meteredEv100: 50 }],
    ["highlightEv100", "impossible", { shadowEv100: -5, stepStops: 1 }],
    ["stepStops", "impossible", { stepStops: 3, overlapStops: 7 }],
    ["overlapStops", "impossible", { overlapStops: 9 }],
    ["shadowEv100", "impossible", { shadowEv100: -35, highlightEv100: -30 }],
  ])("names %s (%s)", (param, code, request) => {
    expect(() => plan(request)).toThrow(expect.objectContaining({ name: "DomainError", param, code }));
  });

  it("says what would hold a scene that the allowed sets cannot", () => {
    const refusal = (request: Partial<BracketRequest>): string => {
      try {
        plan(request);
      } catch (error) {
        return (error as { allowed: string }).allowed;
      }
      throw new Error("was not refused");
    };
    expect(refusal({ shadowEv100: 0, highlightEv100: 20, stepStops: 1, counts: [3, 5] })).toBe(
      "a scene of at most 13 stops with 5 frames at 1 EV (this one spans 20 stops); it would take 12 frames at 1 EV, or 5 frames at 3 EV, or a graduated filter of 7 stops or more",
    );
    expect(refusal({ stepStops: 3, overlapStops: 7 })).toContain("a step of at most 2 EV");
  });
});
