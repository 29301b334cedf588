import {
  frameToFrameDisplacementPx,
  handHeldLimitSeconds,
  imageDisplacementPx,
  imageSpeedPxPerS,
  longestShutterForBlur,
  videoAttenuation,
  videoShutterSeconds,
} from "@fieldstop/core/exposure";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const wave = { speedMPerS: 1, distanceM: 10.05, focalLengthMm: 50, pixelPitchUm: 5 };

describe("@examples", () => {
  it("answer as documented", () => {
    expect(imageSpeedPxPerS(wave)).toBeCloseTo(1000, 9);
    expect(imageDisplacementPx(wave, 0.01)).toBeCloseTo(10, 9);
    expect(longestShutterForBlur(wave, 2)).toEqual({ kind: "limited", seconds: expect.closeTo(0.002, 12) });
    expect(frameToFrameDisplacementPx(10, [0.1, 0.3], 0.3)).toEqual([5]);
    expect(handHeldLimitSeconds({ focalLengthMm: 50, cropFactor: 1.5, stabilisationStops: 3 })).toBeCloseTo(0.107, 3);
    expect(videoShutterSeconds(24)).toBe(1 / 48);
    expect(videoAttenuation(24, 180, 1 / 768).attenuationStops).toBeCloseTo(4, 12);
  });
});

describe("motion", () => {
  it("is slower on a path that comes towards the camera", () => {
    expect(imageSpeedPxPerS({ ...wave, pathAngleDeg: 30 })).toBeCloseTo(500, 9);
    expect(longestShutterForBlur({ ...wave, pathAngleDeg: 180 }, 1)).toEqual({ kind: "unlimited" });
    expect(longestShutterForBlur({ ...wave, speedMPerS: 0 }, 1)).toEqual({ kind: "unlimited" });
  });

  it("the longest shutter smears by its budget", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 50, noNaN: true }),
        fc.double({ min: 1, max: 1000, noNaN: true }),
        fc.double({ min: 0.5, max: 20, noNaN: true }),
        (speedMPerS, distanceM, blurPx) => {
          const motion = { ...wave, speedMPerS, distanceM };
          const longest = longestShutterForBlur(motion, blurPx);
          if (longest.kind !== "limited") throw new Error("a moving thing has a limit");
          expect(imageDisplacementPx(motion, longest.seconds)).toBeCloseTo(blurPx, 9);
        },
      ),
    );
  });

  it("counts from the middle of one frame to the middle of the next", () => {
    expect(frameToFrameDisplacementPx(2, [1, 1, 4], 0.5)).toEqual([3, 6]);
    expect(frameToFrameDisplacementPx(2, [1], 0.5)).toEqual([]);
  });

  it("a video shutter in weak light has no filter to take off", () => {
    expect(videoAttenuation(25, 180, 1 / 12.5)).toEqual({
      shutterSeconds: 0.02,
      attenuationStops: 0,
      shortfallStops: expect.closeTo(2, 12),
    });
  });
});

describe("outside the domain", () => {
  it.each([
    ["distanceM", () => imageSpeedPxPerS({ ...wave, distanceM: 0.05 })],
    ["speedMPerS", () => imageSpeedPxPerS({ ...wave, speedMPerS: -1 })],
    ["pixelPitchUm", () => imageSpeedPxPerS({ ...wave, pixelPitchUm: 0 })],
    ["pathAngleDeg", () => imageSpeedPxPerS({ ...wave, pathAngleDeg: Number.NaN })],
    ["blurPx", () => longestShutterForBlur(wave, 0)],
    ["seconds", () => imageDisplacementPx(wave, -1)],
    ["shutterSeconds.1", () => frameToFrameDisplacementPx(1, [1, 0], 1)],
    ["focalLengthMm", () => handHeldLimitSeconds({ focalLengthMm: 0 })],
    ["stabilisationStops", () => handHeldLimitSeconds({ focalLengthMm: 50, stabilisationStops: 11 })],
    ["shutterAngleDeg", () => videoShutterSeconds(24, 0)],
    ["shutterAngleDeg", () => videoShutterSeconds(24, 361)],
    ["frameRate", () => videoShutterSeconds(0)],
    ["correctShutterSeconds", () => videoAttenuation(24, 180, 0)],
  ])("names %s", (param, call) => {
    expect(call).toThrow(expect.objectContaining({ name: "DomainError", param }));
  });
});
