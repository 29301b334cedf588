import {
  type ApproachRequest,
  chooseApproach,
  type Filter,
  type GraduatedChoice,
  readBracketing,
  type SceneTones,
  sortKit,
} from "@fieldstop/core";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const latitude = { headroomStops: 3, footroomStops: 6 };
const soft3: GraduatedChoice = { stops: 3, transition: "soft", mark: "3 stops", tiltDeg: 0 };

/** A scene by its ground and how far the sky lies over it [stops]. */
function tones(contrast: number, more: Partial<SceneTones> = {}): SceneTones {
  return {
    skyEv100: 8 + contrast,
    brightestEv100: 8.5 + contrast,
    groundEv100: 8,
    brightestGroundEv100: 8,
    darkestEv100: 8,
    stillWaterEv100: 7,
    sunInFrame: false,
    skyInFrame: true,
    night: false,
    uncertaintyStops: 0.5,
    ...more,
  };
}

const NONE = { why: { code: "no-graduated-filter", text: "" } } as const;
const choose = (of: SceneTones, filter?: GraduatedChoice, more: Partial<ApproachRequest> = {}) =>
  chooseApproach({
    tones: of,
    latitude,
    sets: readBracketing(undefined),
    graduated: () => (filter === undefined ? NONE : { choice: filter }),
    ...more,
  });

describe("chooseApproach", () => {
  it("takes one frame, as the ground is metered, where it holds the scene well with what the light may be off by to spare", () => {
    const approach = choose(tones(1), soft3);
    expect(approach).toMatchObject({ kind: "single", exposeForEv100: 8 });
    expect(approach.set).toBeUndefined();
    expect(approach.reasons.map(({ text }) => text)).toEqual([
      "The sky is 1 stop brighter than the ground; one exposure is enough.",
    ]);
  });

  it("is not sure of one frame whose room is under the doubt, and offers the smallest set round it", () => {
    const approach = choose(tones(2.8));
    expect(approach.kind).toBe("single-or-bracket");
    expect(approach.marginStops).toBeCloseTo(0.2, 9);
    expect(approach.set).toMatchObject({ count: 3, stepStops: 1 });
    expect(choose(tones(2.8, { uncertaintyStops: 0.1 })).kind).toBe("single");
  });

  it("takes the graduated filter of the bag before a bracket, and none for a sky less than two stops brighter", () => {
    expect(choose(tones(4), soft3)).toMatchObject({ kind: "graduated", graduated: { stops: 3 } });
    expect(choose(tones(1.9, { uncertaintyStops: 1.6 }), soft3).kind).toBe("single-or-bracket");
  });

  it("brackets what one frame cannot hold at a push, and through the filter where that is not enough", () => {
    expect(choose(tones(9)).kind).toBe("bracket");
    expect(choose(tones(12), soft3).kind).toBe("graduated-and-bracket");
  });

  it("always takes a set with the sun in the frame, at two-stop steps", () => {
    const sun = tones(4, { sunInFrame: true });
    expect(choose(sun)).toMatchObject({ kind: "bracket", set: { stepStops: 2 } });
    expect(choose(sun, soft3)).toMatchObject({ kind: "graduated-and-bracket", set: { stepStops: 2 } });
  });

  it("says what gives way where no set of the camera holds it", () => {
    const sets = readBracketing({ counts: [3], stepsStops: [1] });
    const approach = choose(tones(14), undefined, { sets });
    expect(approach.kind).toBe("beyond-one-set");
    expect(approach.reasons.map(({ code }) => code)).toContain("shadows-give-way");
  });

  it("keeps a night a stop under the meter", () => {
    expect(choose(tones(0.5, { night: true })).exposeForEv100).toBeCloseTo(9, 9);
  });

  const scenes = fc.record({
    contrast: fc.double({ min: -3, max: 14, noNaN: true }),
    peak: fc.double({ min: 0, max: 2, noNaN: true }),
    shade: fc.double({ min: 0, max: 7, noNaN: true }),
    uncertaintyStops: fc.double({ min: 0.3, max: 2, noNaN: true }),
    headroomStops: fc.double({ min: 1, max: 4, noNaN: true }),
    footroomStops: fc.double({ min: 2, max: 11, noNaN: true }),
    filter: fc.option(fc.constantFrom(1, 2, 3, 4)),
    sunInFrame: fc.boolean(),
  });
  type Drawn = typeof scenes extends fc.Arbitrary<infer T> ? T : never;
  const drawn = ({ contrast, peak, shade, filter, ...rest }: Drawn) => {
    const { headroomStops, footroomStops, ...more } = rest;
    const of = tones(contrast, { brightestEv100: 8 + contrast + peak, darkestEv100: 8 - shade, ...more });
    const choice = filter === null || filter > contrast - 0.5 ? undefined : { ...soft3, stops: filter };
    return { of, approach: choose(of, choice, { latitude: { headroomStops, footroomStops } }), headroomStops };
  };

  it("advises nothing by which the brightest part that it holds clips", () => {
    fc.assert(
      fc.property(scenes, (scene) => {
        const { approach, headroomStops } = drawn(scene);
        const half = approach.set === undefined ? 0 : ((approach.set.count - 1) * approach.set.stepStops) / 2;
        const darkest = approach.exposeForEv100 + half;
        expect(approach.tones.brightestEv100).toBeLessThanOrEqual(darkest + headroomStops + 1e-9);
        expect(approach.tones.brightestEv100).toBeLessThanOrEqual(approach.keepsHighlightsEv100 + headroomStops + 1e-9);
      }),
    );
  });

  it("says one frame only where the margin is the doubt or more, and the ground lies within a stop", () => {
    fc.assert(
      fc.property(scenes, (scene) => {
        const { of, approach } = drawn(scene);
        if (approach.kind !== "single") return;
        expect(approach.marginStops).toBeGreaterThanOrEqual(of.uncertaintyStops);
        expect(approach.exposeForEv100 - of.groundEv100).toBeLessThanOrEqual(1 + 1e-9);
      }),
    );
  });

  it("never asks for fewer frames of more contrast", () => {
    const frames = (scene: Drawn): number => {
      const { approach } = drawn({ ...scene, filter: null });
      return approach.kind === "single" ? 1 : approach.kind === "beyond-one-set" ? 99 : (approach.set?.count ?? 1);
    };
    fc.assert(
      fc.property(scenes, fc.double({ min: 0, max: 4, noNaN: true }), (scene, more) => {
        // from a sky as bright as the ground on: under it the ground is the bright end
        const from = { ...scene, contrast: Math.max(0, scene.contrast) };
        expect(frames({ ...from, contrast: from.contrast + more })).toBeGreaterThanOrEqual(frames(from));
      }),
    );
  });
});

describe("readBracketing", () => {
  it("has the usual sets by default, and leaves out steps that are no whole stops", () => {
    expect(readBracketing(undefined)).toEqual({ counts: [3, 5, 7, 9], stepsStops: [1, 2] });
    expect(readBracketing({ counts: [5, 3], stepsStops: [0.3, 0.7, 2, 1] })).toEqual({
      counts: [3, 5],
      stepsStops: [1, 2],
    });
  });

  it.each([
    [{ counts: [4] }, "camera.bracketing.counts.0"],
    [{ counts: [] }, "camera.bracketing.counts"],
    [{ stepsStops: [0] }, "camera.bracketing.stepsStops.0"],
    [{ stepsStops: [0.3, 0.7] }, "camera.bracketing.stepsStops"],
  ])("refuses %j by name", (input, param) => {
    expect(() => readBracketing(input)).toThrow(expect.objectContaining({ param }));
  });
});

describe("sortKit", () => {
  it("sorts by kind and strength, whatever way a filter is marked", () => {
    const soft: Filter = { kind: "graduated", stops: 3, transition: "soft" };
    const kit = sortKit(
      [{ kind: "nd", factor: 1000 }, soft, { kind: "polarizer", lossStops: 1 }, { kind: "nd", density: 0.9 }],
      [],
    );
    expect(kit.neutralDensity.map(({ mark }) => mark)).toEqual(["density 0.9", "ND1000"]);
    expect(kit.graduated).toEqual([soft]);
    expect(kit.polarizer?.attenuationStops).toBe(1);
  });

  it("refuses more than twelve filters", () => {
    const many: Filter[] = Array.from({ length: 13 }, () => ({ kind: "nd", stops: 3 }));
    expect(() => sortKit(many, [])).toThrow(expect.objectContaining({ param: "filters", given: 13 }));
  });
});
