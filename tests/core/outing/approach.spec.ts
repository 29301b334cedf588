import { chooseApproach, type Filter, type SceneInterval, type SkylineInFrame, sortKit } from "@fieldstop/core";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const sensor = { headroomStops: 3, footroomStops: 6 };
const soft3: Filter = { kind: "graduated", stops: 3, transition: "soft" };
const hard2: Filter = { kind: "graduated", stops: 2, transition: "hard" };

function scene(shadowEv100: number, groundEv100: number, skyEv100: number): SceneInterval {
  return { shadowEv100, groundEv100, skyEv100, highlightEv100: skyEv100 + 1 };
}

function skyline(residualRmsPercent: number): SkylineInFrame {
  const line = { yLeft: 0.5, yRight: 0.5, tiltDeg: 0, residualRmsPercent, maxResidualPercent: 2 * residualRmsPercent };
  return { points: [], line, skyPercent: 50 };
}

const choose = (of: SceneInterval, residual: number | null, ...filters: Filter[]) =>
  chooseApproach(of, sensor, residual === null ? null : skyline(residual), sortKit(filters, []));
const codes = (approach: ReturnType<typeof choose>) => approach.reasons.map(({ code }) => code);

describe("chooseApproach", () => {
  it("takes one frame where the sensor holds the scene, and exposes for the ground where that keeps the sky", () => {
    const approach = choose(scene(5, 8, 9), 0, soft3);
    expect(approach).toMatchObject({ kind: "single", exposeForEv100: 8 });
    expect(codes(approach)).toEqual(["scene-fits-one-frame"]);
  });

  it("exposes no brighter than the sky bears", () => {
    // highlights at 13 want 10 or darker; the ground alone would want 7
    expect(choose(scene(4.5, 7, 12), 0).exposeForEv100).toBeCloseTo(10, 12);
  });

  it("lays the weakest filter that is strong enough along a straight skyline", () => {
    const approach = choose(scene(3, 6, 13.5), 1, soft3, hard2, { kind: "graduated", stops: 4, transition: "hard" });
    expect(approach).toMatchObject({ kind: "graduated", graduated: { stops: 3, transition: "soft" } });
    expect(codes(approach)).toEqual(["scene-exceeds-one-frame", "skyline-straight-enough", "graduated-enough"]);
  });

  it("keeps a hard filter off a skyline that a soft one still takes", () => {
    const approach = choose(scene(3, 6, 11.5), 5, hard2, soft3);
    expect(approach.graduated).toMatchObject({ stops: 3, transition: "soft" });
  });

  it("brackets where the skyline is too uneven, where none is known, and where no filter is there", () => {
    expect(codes(choose(scene(3, 6, 12), 12, soft3))).toContain("skyline-too-uneven");
    expect(codes(choose(scene(3, 6, 12), null, soft3))).toContain("no-skyline-in-frame");
    const bare = choose(scene(3, 6, 12), 0);
    expect(codes(bare)).toContain("no-graduated-filter");
    expect(bare.kind).toBe("bracket");
  });

  it("brackets through the filter where the filter is not enough", () => {
    const approach = choose(scene(0, 4, 14), 0, soft3);
    expect(approach.kind).toBe("graduated-and-bracket");
    expect(approach.scene.highlightEv100).toBeCloseTo(12, 12);
  });

  it("never makes the sky darker than the ground", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -5, max: 10, noNaN: true }),
        fc.double({ min: 0, max: 8, noNaN: true }),
        fc.double({ min: -3, max: 12, noNaN: true }),
        (shadow, toGround, toSky) => {
          const of = scene(shadow, shadow + toGround, shadow + toGround + toSky);
          const { graduated, scene: rest } = choose(of, 0, soft3, hard2);
          if (graduated !== undefined) expect(rest.skyEv100).toBeGreaterThanOrEqual(rest.groundEv100 - 1e-9);
        },
      ),
    );
  });

  it("holds highlights and shadows in any single frame", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -5, max: 8, noNaN: true }),
        fc.double({ min: 0, max: 4, noNaN: true }),
        fc.double({ min: 0, max: 8, noNaN: true }),
        (shadow, toGround, toSky) => {
          const of = scene(shadow, shadow + toGround, shadow + toGround + toSky);
          const { kind, exposeForEv100 } = choose(of, 0);
          if (kind !== "single") return;
          expect(of.highlightEv100).toBeLessThanOrEqual(exposeForEv100 + sensor.headroomStops + 1e-9);
          expect(of.shadowEv100).toBeGreaterThanOrEqual(exposeForEv100 - sensor.footroomStops - 1e-9);
        },
      ),
    );
  });
});

describe("sortKit", () => {
  it("sorts by kind and strength, whatever way a filter is marked", () => {
    const kit = sortKit(
      [{ kind: "nd", factor: 1000 }, soft3, { kind: "polarizer", lossStops: 1 }, { kind: "nd", density: 0.9 }],
      [],
    );
    expect(kit.neutralDensity.map(({ mark }) => mark)).toEqual(["density 0.9", "ND1000"]);
    expect(kit.graduated.map(({ graduatedStops }) => graduatedStops)).toEqual([3]);
    expect(kit.polarizer?.attenuationStops).toBe(1);
  });

  it("refuses more than twelve filters", () => {
    const many: Filter[] = Array.from({ length: 13 }, () => ({ kind: "nd", stops: 3 }));
    expect(() => sortKit(many, [])).toThrow(expect.objectContaining({ param: "filters", given: 13 }));
  });
});
