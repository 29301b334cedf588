import { type AngleOfViewRequest, angleOfView, imageSizeMm } from "@fieldstop/core/optics";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const wide: AngleOfViewRequest = { sensor: "full-frame", focalLengthMm: 24 };

describe("@examples", () => {
  it("answer as documented", () => {
    expect(angleOfView(wide).horizontalDeg).toBeCloseTo(73.74, 2);
    expect(imageSizeMm(1000, 0.518)).toBeCloseTo(9.04, 2);
  });
});

describe("angleOfView", () => {
  it("turns with the camera", () => {
    const upright = angleOfView({ ...wide, orientation: "portrait" });
    expect(upright.horizontalDeg).toBe(angleOfView(wide).verticalDeg);
    expect(upright.verticalDeg).toBe(angleOfView(wide).horizontalDeg);
    expect(upright).toMatchObject({ widthMm: 24, heightMm: 36 });
  });

  it("draws at its edge what it says that it takes in", () => {
    fc.assert(
      fc.property(fc.double({ min: 8, max: 1000, noNaN: true }), (focalLengthMm) => {
        const { horizontalDeg, verticalDeg } = angleOfView({ ...wide, focalLengthMm });
        expect(imageSizeMm(focalLengthMm, horizontalDeg)).toBeCloseTo(36, 9);
        expect(imageSizeMm(focalLengthMm, verticalDeg)).toBeCloseTo(24, 9);
      }),
    );
  });

  it("takes in less when focused near, down to half a lens at life size", () => {
    const near = angleOfView({ ...wide, focusDistanceM: 0.048 });
    expect(near.horizontalDeg).toBeCloseTo(angleOfView({ ...wide, focalLengthMm: 48 }).horizontalDeg, 9);
    expect(near.assumptions).toContainEqual(expect.objectContaining({ field: "focusDistanceM" }));
    expect(angleOfView({ ...wide, focusDistanceM: 1e5 }).horizontalDeg).toBeCloseTo(73.74, 3);
  });

  it("knows what full-frame lens takes in as much, before and after a crop", () => {
    const { fullFrameEquivalentMm, crop } = angleOfView({
      sensor: "four-thirds",
      focalLengthMm: 12,
      cropAspect: "16:9",
    });
    expect(fullFrameEquivalentMm).toBeCloseTo(23.99, 2);
    expect(crop?.cut).toBe("top-and-bottom");
    expect(crop?.horizontalDeg).toBeCloseTo(angleOfView({ sensor: "four-thirds", focalLengthMm: 12 }).horizontalDeg, 9);
    const same = angleOfView({ sensor: "full-frame", focalLengthMm: crop?.fullFrameEquivalentMm as number });
    expect(same.diagonalDeg).toBeCloseTo(crop?.diagonalDeg as number, 9);
  });

  it("counts pixels for each degree in the middle", () => {
    const sensor = { widthMm: 36, heightMm: 24, widthPx: 6000 };
    expect(angleOfView({ ...wide, sensor }).pixelsPerDegree).toBeCloseTo((24 / 0.006) * (Math.PI / 180), 9);
    expect(angleOfView(wide)).not.toHaveProperty("pixelsPerDegree");
  });
});

describe("an equidistant fisheye", () => {
  it("draws angles in proportion, and stops at what it covers", () => {
    const fisheye = angleOfView({ sensor: "full-frame", focalLengthMm: 14, projection: "equidistant" });
    expect(fisheye.horizontalDeg).toBeCloseTo((36 / 14) * (180 / Math.PI), 9);
    expect(fisheye).toMatchObject({ fillsFrame: true });
    const circular = angleOfView({ sensor: "full-frame", focalLengthMm: 8, projection: "equidistant" });
    expect(circular).toMatchObject({ horizontalDeg: 180, diagonalDeg: 180, fillsFrame: false });
    expect(circular.verticalDeg).toBeCloseTo((24 / 8) * (180 / Math.PI), 9);
    expect(circular.assumptions).toContainEqual(expect.objectContaining({ field: "coverageDeg", value: 180 }));
    const wider = angleOfView({ sensor: "full-frame", focalLengthMm: 8, projection: "equidistant", coverageDeg: 220 });
    expect(wider).toMatchObject({ horizontalDeg: 220, assumptions: [] });
  });
});

describe("outside the domain", () => {
  it.each<[string, Partial<AngleOfViewRequest>]>([
    ["focalLengthMm", { focalLengthMm: 0 }],
    ["sensor", { sensor: "wide" as never }],
    ["orientation", { orientation: "diagonal" as never }],
    ["projection", { projection: "stereographic" as never }],
    ["focusDistanceM", { focusDistanceM: 0.04 }],
    ["coverageDeg", { coverageDeg: 180 }],
    ["coverageDeg", { projection: "equidistant", coverageDeg: 400 }],
    ["cropAspect", { cropAspect: "16x9" }],
  ])("refuses %s of %j", (param, bad) => {
    expect(() => angleOfView({ ...wide, ...bad })).toThrow(expect.objectContaining({ name: "DomainError", param }));
  });
});
