import { type FramingCamera, frameProjection } from "@fieldstop/core/framing";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const west18: FramingCamera = { azimuthDeg: 270, pitchDeg: 0, focalLengthMm: 18, widthMm: 36, heightMm: 24 };

const anyCamera = fc.record({
  azimuthDeg: fc.double({ min: 0, max: 360, noNaN: true }),
  pitchDeg: fc.double({ min: -60, max: 60, noNaN: true }),
  rollDeg: fc.double({ min: -45, max: 45, noNaN: true }),
  focalLengthMm: fc.double({ min: 12, max: 400, noNaN: true }),
  widthMm: fc.constant(36),
  heightMm: fc.constant(24),
  projection: fc.constantFrom("rectilinear" as const, "equidistant" as const),
});

describe("@examples", () => {
  it("puts 45° off the axis of an 18 mm lens at the edge of a 36 mm frame", () => {
    const point = frameProjection(west18).toFrame(315, 0);
    expect(point?.x).toBeCloseTo(1, 12);
    expect(point?.y).toBeCloseTo(0.5, 12);
  });
});

describe("frameProjection", () => {
  it("comes back to where it started, through either lens", () => {
    fc.assert(
      fc.property(
        anyCamera,
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (camera, x, y) => {
          const projection = frameProjection(camera);
          const { azimuthDeg, altitudeDeg } = projection.toSky(x, y);
          const back = projection.toFrame(azimuthDeg, altitudeDeg);
          expect(back?.x).toBeCloseTo(x, 7);
          expect(back?.y).toBeCloseTo(y, 7);
        },
      ),
    );
  });

  it("draws up as up and right as right", () => {
    const { toFrame } = frameProjection(west18);
    expect(toFrame(270, 10)?.y).toBeLessThan(0.5);
    expect(toFrame(280, 0)?.x).toBeGreaterThan(0.5);
  });

  it("tilts the horizon against a camera that is rolled clockwise", () => {
    const { toFrame } = frameProjection({ ...west18, rollDeg: 10 });
    // the right-hand end of the horizon then rises in the frame
    expect(toFrame(285, 0)?.y).toBeLessThan(toFrame(255, 0)?.y as number);
  });

  // r = f·θ: 60° off axis falls at f·π/3
  it("spaces a fisheye evenly in angle", () => {
    const { toFrame } = frameProjection({ ...west18, focalLengthMm: 10, projection: "equidistant" });
    expect(toFrame(330, 0)?.x).toBeCloseTo(0.5 + (10 * Math.PI) / 3 / 36, 12);
    expect(toFrame(300, 0)?.x).toBeCloseTo(0.5 + (10 * Math.PI) / 6 / 36, 12);
  });

  it("has no place for what lies behind a rectilinear lens", () => {
    expect(frameProjection(west18).toFrame(90, 0)).toBeNull();
  });

  it.each([
    [{ pitchDeg: 91 }, "camera.pitchDeg"],
    [{ focalLengthMm: 0 }, "camera.focalLengthMm"],
    [{ widthMm: Number.NaN }, "camera.widthMm"],
  ])("refuses %j by name", (bad, param) => {
    expect(() => frameProjection({ ...west18, ...bad })).toThrow(expect.objectContaining({ param }));
  });
});
