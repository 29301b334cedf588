import { DomainError, type FramingCamera, frameProjection } from "@fieldstop/core";
import {
  assessPolarizer,
  leastGlareShare,
  type PolarizerAssessment,
  type PolarizerRequest,
  polarizerTransmittance,
} from "@fieldstop/core/filters";
import { skyPolarization } from "@fieldstop/core/sky";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const fullFrame = { widthMm: 36, heightMm: 24, pitchDeg: 0, focalLengthMm: 24 } as const;
const toward = (azimuthDeg: number, other: Partial<FramingCamera> = {}) =>
  frameProjection({ ...fullFrame, azimuthDeg, ...other });
const lowSun = { azimuthDeg: 270, altitudeDeg: 0 };
const assess = (request: Partial<PolarizerRequest>) =>
  assessPolarizer({ sun: lowSun, projection: toward(0), ...request });

function skyOf({ sky }: PolarizerAssessment) {
  if (sky === null) throw new Error("no sky in the frame");
  return sky;
}

function waterOf({ water }: PolarizerAssessment) {
  if (water === null) throw new Error("no water in the frame");
  return water;
}

const azimuths = fc.double({ min: 0, max: 359, noNaN: true });
const suns = fc.record({ azimuthDeg: azimuths, altitudeDeg: fc.double({ min: -5, max: 70, noNaN: true }) });
const focals = fc.double({ min: 14, max: 200, noNaN: true });
const pitches = fc.double({ min: -10, max: 40, noNaN: true });

describe("@examples", () => {
  it("hold", () => {
    const { maxDarkening } = skyOf(assess({ projection: toward(0, { focalLengthMm: 200 }) }));
    expect(maxDarkening.rotationDeg).toBeCloseTo(90, 0);
    expect(maxDarkening.meanStops).toBeCloseTo(1.7, 1);
    expect(leastGlareShare(60)).toBeCloseTo(0.036135, 6);
    expect(polarizerTransmittance(0.8, 90)).toBeCloseTo(0.1, 12);
  });
});

describe("assessPolarizer, the sky", () => {
  it("is the closed formula on the axis of a long lens: crossed with the swing, −log2(1 − p)", () => {
    fc.assert(
      fc.property(suns, azimuths, fc.double({ min: 5, max: 60, noNaN: true }), (sun, azimuthDeg, pitchDeg) => {
        const projection = toward(azimuthDeg, { pitchDeg, focalLengthMm: 3000 });
        const { maxDarkening } = skyOf(assessPolarizer({ sun, projection }));
        const { degree, directionDeg, fromSunDeg } = skyPolarization(sun).toward(azimuthDeg, pitchDeg);
        if (fromSunDeg < 10 || fromSunDeg > 170) return;
        expect(maxDarkening.meanStops).toBeCloseTo(-Math.log2(1 - degree), 1);
        const crossed = (directionDeg + 90) % 180;
        const apart = Math.abs(maxDarkening.rotationDeg - crossed);
        expect(Math.min(apart, 180 - apart)).toBeLessThan(1.5);
      }),
      { numRuns: 60 },
    );
  });

  it("turns with the camera: rolled clockwise, the filter goes back by as much", () => {
    fc.assert(
      fc.property(fc.double({ min: -40, max: 40, noNaN: true }), (rollDeg) => {
        const lens = { focalLengthMm: 2000, pitchDeg: 20 };
        const level = skyOf(assess({ projection: toward(0, lens) })).maxDarkening;
        const rolled = skyOf(assess({ projection: toward(0, { ...lens, rollDeg }) })).maxDarkening;
        const apart = (((level.rotationDeg - rollDeg - rolled.rotationDeg) % 180) + 180) % 180;
        expect(Math.min(apart, 180 - apart)).toBeLessThan(0.5);
        expect(rolled.meanStops).toBeCloseTo(level.meanStops, 2);
      }),
      { numRuns: 30 },
    );
  });

  it("finds no better rotation by brute force, nor a more even one that darkens half as much", () => {
    fc.assert(
      fc.property(suns, azimuths, focals, pitches, (sun, azimuthDeg, focalLengthMm, pitchDeg) => {
        const projection = toward(azimuthDeg, { focalLengthMm, pitchDeg });
        const assessment = assessPolarizer({ sun, projection });
        if (assessment.sky === null) return;
        const { maxDarkening, maxEvenness, grid } = assessment.sky;
        expect(maxDarkening.minStops).toBeLessThanOrEqual(maxDarkening.meanStops);
        expect(maxDarkening.maxStops).toBeGreaterThanOrEqual(maxDarkening.meanStops);
        expect(maxDarkening.rangeStops).toBeCloseTo(maxDarkening.maxStops - maxDarkening.minStops, 12);
        expect(maxEvenness.rangeStops).toBeLessThanOrEqual(maxDarkening.rangeStops);
        expect(maxEvenness.meanStops).toBeGreaterThanOrEqual(maxDarkening.meanStops / 2 - 1e-9);
        expect(maxEvenness.meanStops).toBeLessThanOrEqual(maxDarkening.meanStops + 1e-6);
        for (const { rotationDeg } of [maxDarkening, maxEvenness]) {
          expect(rotationDeg).toBeGreaterThanOrEqual(0);
          expect(rotationDeg).toBeLessThan(180);
        }
        for (const { degree, darkeningStops } of grid) {
          // no rotation darkens more than a crossed filter, nor brightens more than one along the swing
          expect(darkeningStops).toBeLessThanOrEqual(-Math.log2(1 - degree) + 1e-9);
          expect(darkeningStops).toBeGreaterThanOrEqual(-Math.log2(1 + degree) - 1e-9);
        }
      }),
      { numRuns: 60 },
    );
  });

  it("is mirrored where sun and camera are: rotation r becomes 180 − r", () => {
    fc.assert(
      fc.property(fc.double({ min: 20, max: 160, noNaN: true }), focals, (aside, focalLengthMm) => {
        const sun = (azimuthDeg: number) => ({ azimuthDeg, altitudeDeg: 12 });
        const projection = toward(180, { focalLengthMm });
        const right = skyOf(assessPolarizer({ sun: sun(180 + aside), projection })).maxDarkening;
        const left = skyOf(assessPolarizer({ sun: sun(180 - aside), projection })).maxDarkening;
        expect(left.meanStops).toBeCloseTo(right.meanStops, 3);
        expect(left.rangeStops).toBeCloseTo(right.rangeStops, 1);
        const sum = (left.rotationDeg + right.rotationDeg) % 180;
        expect(Math.min(sum, 180 - sum)).toBeLessThan(0.5);
        expect(left.cornerStops.topLeft as number).toBeCloseTo(right.cornerStops.topRight as number, 1);
      }),
      { numRuns: 40 },
    );
  });

  it("grows uneven as the lens grows wide, and warns past a stop", () => {
    const ranges = [200, 85, 50, 35, 24, 16].map((focalLengthMm) => {
      const { maxDarkening } = skyOf(assess({ projection: toward(0, { focalLengthMm }) }));
      return maxDarkening.rangeStops;
    });
    expect([...ranges].sort((a, b) => a - b)).toEqual(ranges);
    const wide = assess({ projection: toward(0, { focalLengthMm: 16 }) });
    const long = assess({ projection: toward(0, { focalLengthMm: 100 }) });
    expect(wide.warnings.map(({ code }) => code)).toEqual(["uneven-sky"]);
    expect(wide.verdict.code).toBe("worth-it-with-care");
    expect(long.warnings).toEqual([]);
    expect(long.verdict.code).toBe("worth-it");
  });

  it("darkens less with haze and cloud, not at all under an overcast", () => {
    const mean = (turbidity: number) => skyOf(assess({ sky: { turbidity } })).maxDarkening.meanStops;
    const means = [1, 2, 4, 8, 15].map(mean);
    expect([...means].sort((a, b) => b - a)).toEqual(means);
    const overcast = skyOf(assess({ sky: { cloudCover: { low: 100, middle: 0, high: 0 } } }));
    expect(overcast.maxDarkening).toMatchObject({ rotationDeg: 0, meanStops: 0, minStops: 0, maxStops: 0 });
  });

  it("keeps its answer when the horizon moves by a hair", () => {
    const under = (altitudeDeg: number) =>
      skyOf(assess({ profile: { azimuthsDeg: [0, 180], altitudesDeg: [altitudeDeg, altitudeDeg] } })).maxDarkening
        .meanStops;
    expect(Math.abs(under(-0.04) - under(0))).toBeLessThan(0.002);
    expect(under(1e-9)).toBeCloseTo(under(-1e-9), 6);
  });

  it("is settled by its grid: four times as fine tells the same", () => {
    const coarse = skyOf(assess({})).maxDarkening;
    const fine = skyOf(assess({ grid: { columns: 49, rows: 33 } })).maxDarkening;
    expect(Math.abs(coarse.meanStops - fine.meanStops)).toBeLessThan(0.03);
    expect(Math.abs(coarse.rangeStops - fine.rangeStops)).toBeLessThan(0.05);
  });

  it("sees no sky where the camera looks down or land fills the frame", () => {
    expect(assess({ projection: toward(0, { pitchDeg: -60 }) }).sky).toBeNull();
    const wall = { azimuthsDeg: [0, 180], altitudesDeg: [50, 50] };
    const none = assess({ profile: wall });
    expect([none.sky, none.water, none.conflict, none.verdict.code]).toEqual([null, null, null, "nothing-to-darken"]);
  });

  it("costs what the filter takes: 1.5 stops unless told, and says that it was assumed", () => {
    expect(assess({}).lossStops).toBe(1.5);
    expect(assess({}).assumptions).toContainEqual(expect.objectContaining({ field: "filter.lossStops", value: 1.5 }));
    const own = assess({ filter: { kind: "polarizer", lossStops: 1.2 } });
    expect(own.lossStops).toBe(1.2);
    expect(own.assumptions.map(({ field }) => field)).not.toContain("filter.lossStops");
    // what it costs changes nothing of what it darkens against the rest
    expect(own.sky).toEqual(assess({}).sky);
  });
});

describe("assessPolarizer, the water", () => {
  const down = toward(0, { pitchDeg: -37, focalLengthMm: 24 });

  it("stops the glare with the axis upright in a level frame, whole at the polarizing angle", () => {
    const water = waterOf(assess({ projection: down, water: {} }));
    expect(water.rotationDeg).toBe(0);
    expect(water.polarizingAngleDeg).toBeCloseTo(53.12, 2);
    expect(water.polarizingDepressionDeg).toBeCloseTo(36.88, 2);
    const least = water.byDepression.reduce((a, b) => (a.glareLeftPercent < b.glareLeftPercent ? a : b));
    expect(Math.abs(least.depressionDeg - 36.88)).toBeLessThan(1.5);
    expect(least.glareLeftPercent).toBeLessThan(0.2);
    for (const { glareLeftPercent, incidenceDeg } of water.byDepression) {
      expect(glareLeftPercent / 200).toBeCloseTo(leastGlareShare(incidenceDeg), 6);
    }
  });

  it("leaves more glare on wet sand than on still water near the polarizing angle, and never more than all", () => {
    const still = waterOf(assess({ projection: down, water: { surface: "still-water" } }));
    const sand = waterOf(assess({ projection: down, water: { surface: "wet-sand" } }));
    const near = (water: typeof still) =>
      water.byDepression.find(({ depressionDeg }) => Math.abs(depressionDeg - 37) < 1.5)?.glareLeftPercent as number;
    expect(near(sand)).toBeGreaterThan(near(still) + 0.5);
    for (const { glareLeftPercent } of sand.byDepression) {
      expect(glareLeftPercent).toBeGreaterThanOrEqual(0);
      expect(glareLeftPercent).toBeLessThanOrEqual(100.0001);
    }
  });

  it("follows the refractive index: a denser film has its polarizing angle nearer to grazing", () => {
    const glass = waterOf(assess({ projection: down, water: { refractiveIndex: 1.5 } }));
    expect(glass.polarizingAngleDeg).toBeCloseTo(56.31, 2);
    const none = waterOf(assess({ projection: down, water: { refractiveIndex: 1 } }));
    expect(none.glareLeftPercent).toBe(100);
  });

  it("tells the conflict with the sky: both rotations, and what each loses", () => {
    const { sky, water, conflict, warnings } = assess({ water: {} });
    expect(conflict?.apartDeg).toBeGreaterThan(80);
    expect(conflict?.skyLosesStops).toBeGreaterThan(1);
    expect(conflict?.waterKeepsPercent).toBeGreaterThan(25);
    expect(warnings.map(({ code }) => code)).toContain("sky-and-water-disagree");
    expect(sky?.maxDarkening.rotationDeg).not.toBe(water?.rotationDeg);
  });

  it("has no conflict where the sky wants the same: the sun overhead", () => {
    const { conflict, warnings } = assess({ sun: { azimuthDeg: 0, altitudeDeg: 89 }, water: {} });
    expect(conflict?.apartDeg).toBeLessThan(2);
    expect(conflict?.skyLosesStops).toBeLessThan(0.01);
    expect(conflict?.waterKeepsPercent).toBeLessThan(0.5);
    expect(warnings.map(({ code }) => code)).not.toContain("sky-and-water-disagree");
  });

  it("is silent about water that nobody spoke of", () => {
    expect(assess({ projection: down }).water).toBeNull();
  });
});

describe("assessPolarizer, refused", () => {
  it.each<[string, Partial<PolarizerRequest>]>([
    ["sun.altitudeDeg", { sun: { azimuthDeg: 0, altitudeDeg: 95 } }],
    ["sun.azimuthDeg", { sun: { azimuthDeg: Number.NaN, altitudeDeg: 5 } }],
    ["sky.turbidity", { sky: { turbidity: 0 } }],
    ["sky.cloudCover.low", { sky: { cloudCover: { low: 101, middle: 0, high: 0 } } }],
    ["water.refractiveIndex", { water: { refractiveIndex: 5 } }],
    ["filter.lossStops", { filter: { kind: "polarizer", lossStops: -1 } }],
    ["grid.columns", { grid: { columns: 1, rows: 5 } }],
    ["grid.rows", { grid: { columns: 5, rows: 2.5 } }],
  ])("names %s", (param, request) => {
    let thrown: unknown;
    try {
      assess(request);
    } catch (error) {
      thrown = error;
    }
    expect(thrown).toBeInstanceOf(DomainError);
    expect((thrown as DomainError).param).toBe(param);
  });
});
