import { bodyInFrame, type FramingCamera } from "@fieldstop/core/framing";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const west: FramingCamera = { azimuthDeg: 270, pitchDeg: 0, focalLengthMm: 24, widthMm: 36, heightMm: 24 };
const flat = { azimuthsDeg: [0, 180], altitudesDeg: [0, 0] };
const tanOf = (deg: number): number => Math.tan((deg * Math.PI) / 180);

/** A disc of half a degree at an apparent place, without air. */
const disc = (azimuthDeg: number, altitudeDeg: number, camera = west, profile = flat) =>
  bodyInFrame({
    camera,
    profile,
    position: { azimuthDeg, altitudeDeg, trueAltitudeDeg: altitudeDeg },
    semidiameterDeg: 0.25,
  });

describe("@examples", () => {
  it("draws a sun 10° over the axis at a third of the frame", () => {
    const position = { azimuthDeg: 270, altitudeDeg: 10, trueAltitudeDeg: 9.9 };
    const sun = bodyInFrame({ camera: west, profile: flat, position, semidiameterDeg: 16 / 60 });
    expect(sun.y).toBeCloseTo(0.3237, 4);
  });
});

describe("bodyInFrame", () => {
  it("draws the disc to scale: 2·f·tan(s) in the middle, wider off the axis of a straight lens", () => {
    expect(disc(270, 0).discDiameterPercent).toBeCloseTo((100 * 2 * 24 * tanOf(0.25)) / 24, 8);
    expect(disc(270, 20).discDiameterPercent).toBeCloseTo(100 * (tanOf(20.25) - tanOf(19.75)), 8);
  });

  it("counts a disc as in the frame while any of it is", () => {
    const edgeDeg = (Math.atan(0.5) * 180) / Math.PI;
    expect(disc(270, edgeDeg - 1).inFrame).toBe(true);
    expect(disc(270, edgeDeg + 0.2).inFrame).toBe(true);
    expect(disc(270, edgeDeg + 0.3)).toMatchObject({ inFrame: false, x: expect.closeTo(0.5, 9) });
  });

  it("has no place in the frame for what is far off or behind", () => {
    for (const azimuthDeg of [90, 5, 195]) {
      expect(disc(azimuthDeg, 10)).toMatchObject({
        x: null,
        y: null,
        inFrame: false,
        discDiameterPercent: null,
        azimuthDeg,
      });
    }
  });

  it("stands above the skyline until its top is behind it", () => {
    const wall = { azimuthsDeg: [0, 180], altitudesDeg: [5, 5] };
    // true and apparent altitude are one here, so that there is no air to lift either limb
    expect(disc(270, 4.8, west, wall).aboveSkyline).toBe(true);
    expect(disc(270, 4.7, west, wall).aboveSkyline).toBe(false);
    expect(disc(90, 5.1, west, wall).aboveSkyline).toBe(true);
  });

  // Nautical Almanac Office: the upper limb is on the horizon when the true altitude is −50′ (34′ of refraction, 16′ of semidiameter)
  it("sets with the almanac, to the hundredth of a degree", () => {
    const at = (trueAltitudeDeg: number) =>
      bodyInFrame({
        camera: west,
        profile: flat,
        position: { azimuthDeg: 270, trueAltitudeDeg, altitudeDeg: trueAltitudeDeg + 0.62 },
        semidiameterDeg: 16 / 60,
      });
    expect(at(-50 / 60 + 0.03).aboveSkyline).toBe(true);
    expect(at(-50 / 60 - 0.05).aboveSkyline).toBe(false);
  });

  it("is in the frame wherever the frame looks", () => {
    const part = fc.double({ min: 0.01, max: 0.99, noNaN: true });
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 359, noNaN: true }),
        fc.double({ min: -40, max: 40, noNaN: true }),
        part,
        (azimuthDeg, pitchDeg, offset) => {
          const camera = { ...west, azimuthDeg, pitchDeg };
          const seen = disc(azimuthDeg, pitchDeg + (offset - 0.5) * 20, camera);
          expect(seen.inFrame).toBe(true);
          expect(seen.x).toBeCloseTo(0.5, 9);
        },
      ),
    );
  });

  it("refuses a disc that is none", () => {
    const request = { camera: west, profile: flat, position: { azimuthDeg: 0, altitudeDeg: 0, trueAltitudeDeg: 0 } };
    for (const semidiameterDeg of [-1, Number.NaN, 2]) {
      expect(() => bodyInFrame({ ...request, semidiameterDeg })).toThrow(
        expect.objectContaining({ param: "semidiameterDeg" }),
      );
    }
  });
});
