import { dipDeg, sunriseAltitudeDeg } from "@fieldstop/core/almanac";
import { limbAltitudeDeg } from "@fieldstop/core/light";
import { refractionDeg, type SkyPosition, trueFromApparentDeg } from "@fieldstop/core/sky";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const sunAt = (trueAltitudeDeg: number, air = 1): SkyPosition => ({
  azimuthDeg: 270,
  trueAltitudeDeg,
  altitudeDeg: trueAltitudeDeg + air * refractionDeg(trueAltitudeDeg),
});

describe("@examples", () => {
  it("puts the upper limb on the level at the almanac's sunrise", () => {
    expect(limbAltitudeDeg({ azimuthDeg: 270, trueAltitudeDeg: -50 / 60, altitudeDeg: -0.2154 }, "upper")).toBeCloseTo(
      0,
      3,
    );
  });
});

describe("the limbs of the sun", () => {
  it.each([0, 1.6, 10, 300, 1000])("stand on the sea horizon at the almanac's sunrise, from %f m", (eyeM) => {
    expect(limbAltitudeDeg(sunAt(sunriseAltitudeDeg(eyeM)), "upper")).toBeCloseTo(-dipDeg(eyeM), 9);
  });

  // from memory: the sun on the horizon is about five sixths as high as it is wide, 26′ to 28′ against 32′
  it("are flattened toward each other on the horizon, and hardly so high up", () => {
    const height = (trueDeg: number): number =>
      limbAltitudeDeg(sunAt(trueDeg), "upper") - limbAltitudeDeg(sunAt(trueDeg), "lower");
    expect(height(trueFromApparentDeg(0.25)) * 60).toBeGreaterThan(26);
    expect(height(trueFromApparentDeg(0.25)) * 60).toBeLessThan(28);
    expect(height(30) * 60).toBeCloseTo(32, 1);
  });

  it("stay near the centre as the track has it: 16′ above and below it, less what the air squeezes", () => {
    for (let trueDeg = 3; trueDeg < 89; trueDeg += 0.5) {
      const sun = sunAt(trueDeg);
      expect(limbAltitudeDeg(sun, "upper") - sun.altitudeDeg).toBeCloseTo(16 / 60, 1);
      expect(sun.altitudeDeg - limbAltitudeDeg(sun, "lower")).toBeCloseTo(16 / 60, 1);
    }
  });

  it("rise as the sun rises, in thick air and in thin", () => {
    const altitude = fc.double({ min: -20, max: 89.5, noNaN: true });
    fc.assert(
      fc.property(
        altitude,
        fc.double({ min: 1e-4, max: 1, noNaN: true }),
        fc.double({ min: 0.3, max: 1.3, noNaN: true }),
        (low, step, air) => {
          for (const limb of ["upper", "lower"] as const) {
            const high = Math.min(89.9, low + step);
            expect(limbAltitudeDeg(sunAt(high, air), limb)).toBeGreaterThan(limbAltitudeDeg(sunAt(low, air), limb));
          }
        },
      ),
      { numRuns: 500 },
    );
  });

  it("take their air from the track: none at all where it has none", () => {
    const airless = { azimuthDeg: 0, trueAltitudeDeg: 2, altitudeDeg: 2 };
    expect(limbAltitudeDeg(airless, "upper")).toBeCloseTo(2 + 16 / 60, 12);
    expect(limbAltitudeDeg(airless, "lower")).toBeCloseTo(2 - 16 / 60, 12);
  });

  it("are numbers at the zenith and at the nadir", () => {
    for (const trueDeg of [-90, 89.9, 89.99, 90]) {
      expect(Math.abs(limbAltitudeDeg(sunAt(trueDeg), "upper") - trueDeg)).toBeLessThan(1);
    }
  });
});
