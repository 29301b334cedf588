import { type FramingCamera, frameProjection, skylineInFrame } from "@fieldstop/core/framing";
import { describe, expect, it } from "vitest";

const west: FramingCamera = { azimuthDeg: 270, pitchDeg: 0, focalLengthMm: 24, widthMm: 36, heightMm: 24 };
const flat = { azimuthsDeg: [0, 180], altitudesDeg: [0, 0] };

/** A wall of one height between two azimuths, on a flat horizon. */
function wall(fromDeg: number, toDeg: number, altitudeDeg: number) {
  const azimuthsDeg = [0, fromDeg - 0.001, fromDeg, toDeg, toDeg + 0.001];
  return { azimuthsDeg, altitudesDeg: [0, 0, altitudeDeg, altitudeDeg, 0] };
}

describe("skylineInFrame", () => {
  it("draws a flat horizon as a straight line through the middle of a level camera", () => {
    const { line, points, skyPercent } = skylineInFrame(flat, west);
    expect(points).toHaveLength(181);
    expect(skyPercent).toBeCloseTo(50, 1);
    expect(line?.yLeft).toBeCloseTo(0.5, 3);
    expect(line?.tiltDeg).toBeCloseTo(0, 3);
    expect(line?.maxResidualPercent).toBeLessThan(0.03);
  });

  it("finds the tilt of a rolled camera, and no stray from the line", () => {
    const { line } = skylineInFrame(flat, { ...west, rollDeg: 7 });
    expect(line?.tiltDeg).toBeCloseTo(-7, 1);
    expect(line?.maxResidualPercent).toBeLessThan(0.05);
  });

  it("moves the horizon down when the camera looks up, by the tangent of the pitch", () => {
    const { line } = skylineInFrame(flat, { ...west, pitchDeg: 10 });
    expect(line?.yLeft).toBeCloseTo(0.5 + (24 * Math.tan((10 * Math.PI) / 180)) / 24, 3);
  });

  it("agrees with the projection of each point of a wall's top", () => {
    const profile = wall(260, 280, 5);
    const { points } = skylineInFrame(profile, west);
    const { toFrame } = frameProjection(west);
    const onTop = points.filter(({ azimuthDeg }) => azimuthDeg > 260.5 && azimuthDeg < 279.5);
    expect(onTop.length).toBeGreaterThan(20);
    for (const { azimuthDeg, x, y } of onTop) {
      const exact = toFrame(azimuthDeg, 5);
      expect(Math.abs((exact?.y as number) - y)).toBeLessThan(1 / 4000);
      expect(exact?.x).toBeCloseTo(x, 3);
    }
  });

  it("tells a peak in the middle from a straight skyline", () => {
    const { line } = skylineInFrame({ azimuthsDeg: [0, 255, 270, 285], altitudesDeg: [0, 0, 12, 0] }, west);
    expect(line?.maxResidualPercent).toBeGreaterThan(8);
  });

  it("has no line where all is sky, or none", () => {
    expect(skylineInFrame(flat, { ...west, pitchDeg: 45 })).toMatchObject({ line: null, points: [], skyPercent: 100 });
    expect(skylineInFrame({ azimuthsDeg: [0, 180], altitudesDeg: [60, 60] }, west)).toMatchObject({
      line: null,
      skyPercent: 0,
    });
  });

  it("refuses a frame that takes in the zenith", () => {
    expect(() => skylineInFrame(flat, { ...west, pitchDeg: 85 })).toThrow(
      expect.objectContaining({ code: "impossible" }),
    );
  });
});
