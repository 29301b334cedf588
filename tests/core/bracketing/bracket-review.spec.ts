import { reviewBracket, type TakenFrame } from "@fieldstop/core/bracketing";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { evenScene, landscape, type Scene, type SensorOptions, takeFrame, takeSet } from "./synthetic-scene";

const THIRD = 1 / 3;
const biasesTo = (darkest: number, brightest: number, step = 1): number[] =>
  Array.from({ length: Math.round((brightest - darkest) / step) + 1 }, (_, i) => darkest + i * step);
const codes = (list: readonly { code: string }[]): string[] => list.map(({ code }) => code);
const neededBiases = (frames: readonly { biasStops: number; needed: boolean }[]): number[] =>
  frames.filter(({ needed }) => needed).map(({ biasStops }) => biasStops);

describe("@examples", () => {
  it("answer as documented", () => {
    const frames = takeSet(evenScene(-6, 2.5), [-2, 0, 2]);
    expect(reviewBracket({ frames }).missing).toEqual([expect.objectContaining({ biasStops: -3 })]);
  });
});

describe("the range of a scene", () => {
  const sensors: readonly [string, SensorOptions][] = [
    ["8-bit sRGB", {}],
    ["8-bit sRGB with noise", { noise: 0.0005 }],
    ["12-bit linear", { coding: "linear", bins: 4096 }],
    ["14-bit linear with noise", { coding: "linear", bins: 16_384, noise: 0.0005 }],
  ];
  const scenes: readonly [string, (low: number, high: number) => Scene][] = [
    ["an even scene", evenScene],
    ["a landscape", landscape],
  ];
  const cases = sensors.flatMap(([sensor, options]) =>
    scenes.flatMap(([name, make]) => [4, 7, 10, 12, 14, 16].map((range) => ({ sensor, options, name, make, range }))),
  );
  it("is tried on 48 scenes", () => expect(cases).toHaveLength(48));

  it.each(cases)(
    "is recovered within a third of a stop: $name of $range stops, $sensor",
    ({ options, make, range }) => {
      const highlight = 3;
      const review = reviewBracket({ frames: takeSet(make(highlight - range, highlight), biasesTo(-4, 6), options) });
      expect(review.sceneRangeIsMinimum).toBe(false);
      expect(Math.abs(review.sceneRangeStops - range)).toBeLessThan(THIRD);
      expect(Math.abs(review.highlightStops - highlight)).toBeLessThan(THIRD);
      expect(review.missing).toEqual([]);
    },
  );

  it("does not depend on the steps, on the order of the frames, or on the size of the picture", () => {
    const scene = landscape(-9, 3.4);
    const ranges = [biasesTo(-4, 4), biasesTo(-4, 4, 2), biasesTo(-4, 4, 4)].map(
      (biases) => reviewBracket({ frames: takeSet(scene, biases) }).sceneRangeStops,
    );
    for (const range of ranges) expect(Math.abs(range - 12.4)).toBeLessThan(THIRD);
    const frames = takeSet(scene, [-4, 0, 4]);
    const [a, b, c] = frames as [TakenFrame, TakenFrame, TakenFrame];
    const shuffled = reviewBracket({ frames: [c, a, b] });
    const straight = reviewBracket({ frames });
    expect(shuffled.sceneRangeStops).toBe(straight.sceneRangeStops);
    expect(shuffled.frames.map(({ needed }) => needed)).toEqual([2, 0, 1].map((i) => straight.frames[i]?.needed));
    const grown = frames.map((frame) => {
      const more = frame.histogram.red.map((count) => count * 1000);
      return { ...frame, histogram: { red: more, green: more, blue: more } };
    });
    expect(reviewBracket({ frames: grown }).sceneRangeStops).toBeCloseTo(straight.sceneRangeStops, 9);
  });

  it("is the least that it can be where an end is spoilt", () => {
    const scene = evenScene(-12, 4);
    const review = reviewBracket({ frames: takeSet(scene, [-2, -1, 0, 1, 2]) });
    expect(review.sceneRangeIsMinimum).toBe(true);
    expect(review.sceneRangeStops).toBeLessThan(16);
    // what the set holds: four stops of bias and the nine of a frame
    expect(Math.abs(review.sceneRangeStops - 13)).toBeLessThan(0.1);
  });

  it("holds for any scene and any set that catches it", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -4, max: 4, noNaN: true }),
        fc.double({ min: 1, max: 15, noNaN: true }),
        fc.constantFrom(1, 4 / 3, 2),
        (highlight, range, step) => {
          const scene = landscape(highlight - range, highlight, 4000);
          const review = reviewBracket({ frames: takeSet(scene, biasesTo(-6, 14, step)) });
          expect(Math.abs(review.sceneRangeStops - range)).toBeLessThan(THIRD);
        },
      ),
      { numRuns: 40 },
    );
  });
});

describe("clipped and blocked", () => {
  it("are the shares of pixels past either end", () => {
    // a quarter of the scene lies over full scale at no bias, a fifth under the noise floor at -9
    const scene = evenScene(-13, 5, 18_000);
    const { frames } = reviewBracket({ frames: takeSet(scene, [0]) });
    expect(frames[0]?.clippedHighlightPercent).toBeCloseTo((100 * 5) / 18, 0);
    expect(frames[0]?.blockedShadowPercent).toBeCloseTo((100 * 4) / 18, 0);
  });

  it("go by the worst channel for highlights and by the best for shadows", () => {
    const red = takeFrame(evenScene(-3, 2), 0).histogram.red;
    const green = takeFrame(evenScene(-5, -1), 0).histogram.red;
    const blue = takeFrame(evenScene(-14, -6), 0).histogram.red;
    const { frames, highlightStops, shadowStops } = reviewBracket({
      frames: [{ biasStops: 0, coding: "srgb", histogram: { red, green, blue } }],
    });
    expect(frames[0]?.clippedHighlightPercent).toBe(frames[0]?.channels.red.clippedHighlightPercent);
    expect(frames[0]?.channels.green.clippedHighlightPercent).toBe(0);
    expect(frames[0]?.channels.blue.blockedShadowPercent).toBeGreaterThan(50);
    expect(frames[0]?.blockedShadowPercent).toBe(0);
    expect(highlightStops).toBeCloseTo(0, 1);
    expect(shadowStops).toBeCloseTo(-3, 1);
  });

  it("forgive the sun and glints, as much as is tolerated", () => {
    const scene = [...evenScene(-8, -0.5, 19_990), ...evenScene(9, 10, 10)];
    const frames = takeSet(scene, [-1, 0]);
    expect(reviewBracket({ frames }).missing).toEqual([]);
    expect(codes(reviewBracket({ frames, clippedTolerancePercent: 0.01 }).missing)).toEqual(["highlights-clip"]);
  });

  it("follow the noise floor of the sensor", () => {
    const frames = takeSet(evenScene(-11, -1), [0], { coding: "linear", bins: 16_384 });
    const blocked = (dynamicRangeStops: number): number | undefined =>
      reviewBracket({ frames, camera: { dynamicRangeStops } }).frames[0]?.blockedShadowPercent;
    expect(blocked(8)).toBeCloseTo(30, 0);
    expect(blocked(10)).toBeCloseTo(10, 0);
    expect(blocked(12)).toBeCloseTo(0, 0);
  });
});

describe("what is missing", () => {
  it("is one more at -3 where the frame at -2 still clips", () => {
    const { missing, changes } = reviewBracket({ frames: takeSet(evenScene(-6, 2.5), [-2, -1, 0, 1, 2]) });
    expect(missing).toEqual([
      {
        biasStops: -3,
        code: "highlights-clip",
        reason: expect.stringContaining("one more at -3 EV"),
        likelyBiasStops: -3,
      },
    ]);
    expect(codes(changes)).toContain("shift-darker");
  });

  it("reckons how far the highlights go, from how the clipped share falls", () => {
    const far = reviewBracket({ frames: takeSet(evenScene(-6, 4.6), [-2, 0, 2]) });
    expect(far.missing[0]).toMatchObject({ biasStops: -3, likelyBiasStops: -5 });
    const lamp = [...evenScene(-6, -1, 19_000), ...evenScene(11, 12, 1000)];
    expect(reviewBracket({ frames: takeSet(lamp, [-2, 0]) }).missing[0]?.likelyBiasStops).toBeNull();
    expect(reviewBracket({ frames: takeSet(lamp, [-2]) }).missing[0]?.likelyBiasStops).toBeNull();
  });

  it("is one more at the bright end where shadows are still black", () => {
    const { missing, changes } = reviewBracket({ frames: takeSet(evenScene(-11.5, 1.5), [-2, 0, 2]) });
    expect(missing).toEqual([expect.objectContaining({ biasStops: 3, code: "shadows-blocked", likelyBiasStops: 3 })]);
    expect(codes(changes)).toEqual(["add-brighter"]);
  });

  it("is both ends where both are spoilt, and a set that is shifted would not do", () => {
    const { missing, changes } = reviewBracket({ frames: takeSet(evenScene(-12, 3), [-1, 0, 1]) });
    expect(missing.map(({ biasStops }) => biasStops)).toEqual([-2, 2]);
    expect(codes(changes)).toEqual(["add-darker", "add-brighter"]);
  });

  it("is a frame in a gap that neither side holds", () => {
    const { missing, changes } = reviewBracket({
      frames: takeSet(evenScene(-14, 4), [-4, 6], {}),
      camera: { headroomStops: 2, footroomStops: 3 },
    });
    expect(missing).toContainEqual(expect.objectContaining({ biasStops: 1, code: "gap" }));
    expect(codes(changes)).toContain("add-between");
  });

  it("is taken, and then nothing is missing", () => {
    const scene = evenScene(-6, 2.5);
    const first = reviewBracket({ frames: takeSet(scene, [-2, 0, 2]) });
    const biases = [...first.missing.map(({ biasStops }) => biasStops), -2, 0, 2];
    expect(reviewBracket({ frames: takeSet(scene, biases) }).missing).toEqual([]);
  });
});

describe("the blend", () => {
  it("needs one frame for a scene that one holds: the brightest that keeps the highlights", () => {
    const review = reviewBracket({ frames: takeSet(evenScene(-6, 1.5), [-2, -1, 0, 1, 2]) });
    expect(neededBiases(review.frames)).toEqual([-2]);
    expect(review.fewestFrames).toBe(1);
    expect(review.leaveOut).toEqual([1, 2, 3, 4]);
    expect(codes(review.changes)).toEqual(["one-frame"]);
  });

  it("needs two frames for twelve stops, out of seven", () => {
    const review = reviewBracket({ frames: takeSet(evenScene(-8.8, 2.9), biasesTo(-3, 3)) });
    expect(neededBiases(review.frames)).toEqual([-3, 0]);
    expect(review.leaveOut).toEqual([0, 1, 2, 3, 4, 5, 6].filter((i) => i !== 0 && i !== 3));
    expect(codes(review.changes)).toEqual(["fewer-frames"]);
  });

  it("needs every frame of a set that is just wide enough", () => {
    const review = reviewBracket({ frames: takeSet(evenScene(-13.9, 4.9), [-5, 0, 5]), overlapStops: 0 });
    expect(review.fewestFrames).toBe(3);
    expect(review.missing).toEqual([]);
    expect(codes(review.changes)).toEqual(["nothing"]);
  });

  it("takes more frames where more overlap is wanted", () => {
    const frames = takeSet(evenScene(-12.5, 3), biasesTo(-4, 5));
    const counts = [0, 2, 4, 6, 8].map((overlapStops) => reviewBracket({ frames, overlapStops }).fewestFrames);
    expect(counts).toEqual([...counts].sort((a, b) => a - b));
    expect(counts[0]).toBeLessThan(counts.at(-1) as number);
  });

  it("leaves out a frame taken twice", () => {
    const review = reviewBracket({ frames: takeSet(evenScene(-9.1, 2.9), [-3, -3, 0, 0]) });
    expect(review.fewestFrames).toBe(2);
    expect(review.leaveOut).toHaveLength(2);
  });
});

describe("the alignment", () => {
  const scene = evenScene(-9, 2);

  it("is good where the biases are true", () => {
    for (const { errorStops, spreadStops } of reviewBracket({ frames: takeSet(scene, [-3, -1, 1]) }).alignment) {
      expect(Math.abs(errorStops as number)).toBeLessThan(0.05);
      expect(spreadStops).toBeLessThan(0.1);
    }
  });

  it("shows light that changed or a bias that is wrong", () => {
    const [dark, bright] = [takeFrame(scene, -2), takeFrame(scene, 0.5)];
    const { alignment, changes } = reviewBracket({ frames: [dark, { ...bright, biasStops: 0 }] });
    expect(alignment[0]?.errorStops).toBeCloseTo(0.5, 1);
    expect(codes(changes)).toContain("check-bias");
  });

  it("shows a tone curve", () => {
    const curve = (code: number): number => code * code * (3 - 2 * code);
    const { changes } = reviewBracket({ frames: takeSet(scene, [-2, 0, 2], { curve }) });
    expect(codes(changes)).toContain("tone-curve");
  });

  it("is not told from frames that share too little", () => {
    const { alignment } = reviewBracket({ frames: takeSet(evenScene(-1, 0), [-1, 12]) });
    expect(alignment).toEqual([{ fromBiasStops: -1, toBiasStops: 12, errorStops: null, spreadStops: null }]);
  });
});

describe("outside the domain", () => {
  const frame = takeFrame(evenScene(-6, -1), 0);
  const { red, green, blue } = frame.histogram;
  const withHistogram = (histogram: TakenFrame["histogram"]) => ({ frames: [{ ...frame, histogram }] });
  it.each([
    ["frames", { frames: [] }],
    ["frames", { frames: new Array(100).fill(frame) }],
    ["frames.0.biasStops", { frames: [{ ...frame, biasStops: Number.NaN }] }],
    ["frames.0.coding", { frames: [{ ...frame, coding: "adobe" as "srgb" }] }],
    ["frames.0.histogram.green", withHistogram({ red, green: green.slice(1), blue })],
    ["frames.0.histogram.blue", withHistogram({ red, green, blue: [...blue, 0] })],
    ["frames.0.histogram.red", withHistogram({ red: [1, 2], green: [1, 2], blue: [1, 2] })],
    ["frames.0.histogram.red.3", withHistogram({ red: red.with(3, -1), green, blue })],
    ["frames.0.histogram.blue.3", withHistogram({ red, green, blue: blue.with(3, Number.NaN) })],
    ["frames.0.histogram.green", withHistogram({ red, green: green.map(() => 0), blue })],
    ["clippedTolerancePercent", { frames: [frame], clippedTolerancePercent: 51 }],
    ["blockedTolerancePercent", { frames: [frame], blockedTolerancePercent: -1 }],
    ["overlapStops", { frames: [frame], overlapStops: Number.NaN }],
    ["camera.dynamicRangeStops", { frames: [frame], camera: { dynamicRangeStops: 99 } }],
  ])("names %s", (param, request) => {
    expect(() => reviewBracket(request)).toThrow(expect.objectContaining({ name: "DomainError", param }));
  });
});
