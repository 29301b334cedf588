import {
  apertureForLimits,
  blurDiameterMm,
  focusBetweenM,
  hyperfocalDistanceM,
  sharpLimits,
  type ThinLens,
} from "@fieldstop/core/optics";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const lens = fc.record({
  focalLengthMm: fc.double({ min: 8, max: 600, noNaN: true }),
  aperture: fc.double({ min: 1, max: 32, noNaN: true }),
  circleOfConfusionMm: fc.double({ min: 0.005, max: 0.1, noNaN: true }),
});
/** A focus distance in focal lengths, well away from the lens itself. */
const focus = fc.double({ min: 3, max: 1e4, noNaN: true });

describe("@examples", () => {
  it("answer as documented", () => {
    const fifty: ThinLens = { focalLengthMm: 50, aperture: 8, circleOfConfusionMm: 0.03 };
    expect(hyperfocalDistanceM(fifty)).toBeCloseTo(10.467, 3);
    const { nearM, far } = sharpLimits({ ...fifty, focalLengthMm: 24 }, 3);
    expect(nearM).toBeCloseTo(1.339, 3);
    expect(far.kind).toBe("infinity");
    expect(focusBetweenM(2, 6)).toBe(3);
    expect(apertureForLimits({ focalLengthMm: 24, circleOfConfusionMm: 0.03 }, 1.2, "infinity")).toBeCloseTo(8.08, 2);
    expect(blurDiameterMm(fifty, 10.467, "infinity")).toBeCloseTo(0.03, 5);
  });
});

describe("sharpLimits", () => {
  it("blurs by the circle of confusion at both limits", () => {
    let finite = 0;
    fc.assert(
      fc.property(lens, focus, (thin, focalLengths) => {
        const focusM = (thin.focalLengthMm * focalLengths) / 1000;
        const { nearM, far } = sharpLimits(thin, focusM);
        const circle = thin.circleOfConfusionMm;
        expect(nearM).toBeLessThan(focusM);
        expect(blurDiameterMm(thin, focusM, nearM) / circle).toBeCloseTo(1, 6);
        if (far.kind === "infinity") {
          expect(blurDiameterMm(thin, focusM, "infinity")).toBeLessThanOrEqual(circle * (1 + 1e-9));
        } else {
          finite++;
          expect(far.distanceM).toBeGreaterThan(focusM);
          expect(blurDiameterMm(thin, focusM, far.distanceM) / circle).toBeCloseTo(1, 5);
        }
      }),
    );
    expect(finite).toBeGreaterThan(10);
  });

  it("reaches infinity exactly from the hyperfocal distance on, and then begins at half of it", () => {
    fc.assert(
      fc.property(lens, (thin) => {
        const h = hyperfocalDistanceM(thin);
        const at = sharpLimits(thin, h);
        expect(at.far).toEqual({ kind: "infinity", distanceM: null });
        expect(at.nearM / (h / 2)).toBeCloseTo(1, 9);
        expect(sharpLimits(thin, h * 0.999).far.kind).toBe("distance");
      }),
    );
  });

  it("ends, focused at infinity, one focal length short of the hyperfocal distance", () => {
    const thin = { focalLengthMm: 50, aperture: 8, circleOfConfusionMm: 0.03 };
    const { nearM, far } = sharpLimits(thin, "infinity");
    expect(nearM).toBeCloseTo(hyperfocalDistanceM(thin) - 0.05, 12);
    expect(far).toEqual({ kind: "infinity", distanceM: null });
    expect(sharpLimits(thin, 1e9).nearM).toBeCloseTo(nearM, 4);
  });
});

describe("apertureForLimits", () => {
  it("is the aperture whose limits they are", () => {
    fc.assert(
      fc.property(lens, focus, (thin, focalLengths) => {
        const { nearM, far } = sharpLimits(thin, (thin.focalLengthMm * focalLengths) / 1000);
        // focused past the hyperfocal distance the far end has something to spare
        fc.pre(far.kind === "distance" && far.distanceM < 1e6);
        const farM = far.distanceM as number;
        expect(apertureForLimits(thin, nearM, farM) / thin.aperture).toBeCloseTo(1, 5);
        expect(focusBetweenM(nearM, farM) / ((thin.focalLengthMm * focalLengths) / 1000)).toBeCloseTo(1, 6);
      }),
    );
    fc.assert(
      fc.property(lens, (thin) => {
        const half = hyperfocalDistanceM(thin) / 2;
        fc.pre(half * 1000 > thin.focalLengthMm * 1.01);
        expect(apertureForLimits(thin, half, "infinity") / thin.aperture).toBeCloseTo(1, 6);
      }),
    );
  });

  it("is nothing at all for a single distance", () => {
    expect(apertureForLimits({ focalLengthMm: 50, circleOfConfusionMm: 0.03 }, 5, 5)).toBe(0);
  });
});

describe("outside the domain", () => {
  const good: ThinLens = { focalLengthMm: 50, aperture: 8, circleOfConfusionMm: 0.03 };
  it.each([
    ["focalLengthMm", () => hyperfocalDistanceM({ ...good, focalLengthMm: 0 })],
    ["aperture", () => hyperfocalDistanceM({ ...good, aperture: 0 })],
    ["circleOfConfusionMm", () => hyperfocalDistanceM({ ...good, circleOfConfusionMm: 0 })],
    ["focusDistanceM", () => sharpLimits(good, 0.05)],
    ["focusDistanceM", () => sharpLimits(good, Number.POSITIVE_INFINITY)],
    ["focusDistanceM", () => sharpLimits(good, Number.NaN)],
    ["nearM", () => focusBetweenM(0, 5)],
    ["farM", () => focusBetweenM(5, 4)],
    ["nearM", () => apertureForLimits(good, 0.01, 5)],
    ["distanceM", () => blurDiameterMm(good, 5, 0.01)],
  ])("refuses %s by name", (param, call) => {
    expect(call).toThrow(expect.objectContaining({ name: "DomainError", param }));
  });
});
