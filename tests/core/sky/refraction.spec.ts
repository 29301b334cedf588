import { DomainError } from "@fieldstop/core";
import {
  refractionDeg,
  refractionSeenDeg,
  sunPosition,
  trueFromApparentDeg,
  usualPressureHPa,
} from "@fieldstop/core/sky";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const altitude = fc.double({ min: -89, max: 89, noNaN: true });
const air = fc.record({
  pressureHPa: fc.double({ min: 300, max: 1100, noNaN: true }),
  temperatureC: fc.double({ min: -90, max: 60, noNaN: true }),
});

describe("@examples", () => {
  it("refractionDeg(0)", () => expect(refractionDeg(0)).toBeCloseTo(0.483, 3));
  it("refractionSeenDeg(0)", () => expect(refractionSeenDeg(0)).toBeCloseTo(0.575, 3));
  it("usualPressureHPa(2000)", () => expect(usualPressureHPa(2000)).toBeCloseTo(792.4, 1));
  it("trueFromApparentDeg(0)", () => expect(trueFromApparentDeg(0)).toBeCloseTo(-0.574, 3));
});

describe("refraction", () => {
  it("comes back to the true altitude from the apparent one, in any air", () => {
    fc.assert(
      fc.property(altitude, air, (trueDeg, atmosphere) => {
        const seen = trueDeg + refractionDeg(trueDeg, atmosphere);
        expect(Math.abs(trueFromApparentDeg(seen, atmosphere) - trueDeg)).toBeLessThan(1e-9);
      }),
    );
  });

  it("keeps altitudes in order and lets nothing sink", () => {
    fc.assert(
      fc.property(altitude, altitude, air, (a, b, atmosphere) => {
        const seen = (h: number): number => h + refractionDeg(h, atmosphere);
        if (b - a > 1e-9) expect(seen(a)).toBeLessThan(seen(b));
        expect(refractionDeg(a, atmosphere)).toBeGreaterThanOrEqual(0);
      }),
    );
  });

  it("holds its value below -1°", () => {
    // as the contract and the units' page tell
    expect(refractionDeg(-1)).toBeCloseTo(0.65, 2);
    for (const h of [-1.001, -2, -18, -90]) {
      expect(refractionDeg(h)).toBe(refractionDeg(-1));
      expect(refractionSeenDeg(h)).toBe(refractionSeenDeg(-1));
    }
  });

  // by their authors the two formulas agree within 0.1′ (Meeus 1998, ch. 16)
  it("is the same asked from either side, within 0.1′", () => {
    for (let h = 0; h <= 90; h += 0.25) {
      const seen = Math.min(90, h + refractionDeg(h));
      expect(Math.abs(refractionSeenDeg(seen) - refractionDeg(h)) * 60).toBeLessThan(0.1);
    }
  });

  it("grows with pressure and shrinks with warmth", () => {
    expect(refractionDeg(1, { pressureHPa: 1040 })).toBeGreaterThan(refractionDeg(1));
    expect(refractionDeg(1, { temperatureC: 30 })).toBeLessThan(refractionDeg(1));
  });

  // ICAO Doc 7488 (1993): 79501 Pa at 2000 m, 0.78462 of the pressure at sea level
  it("is weaker on a mountain, by the pressure to expect there", () => {
    const lift = (elevationM: number): number => {
      const { altitudeDeg, trueAltitudeDeg } = sunPosition(Date.UTC(2027, 2, 20, 8), {
        latitude: 56.6,
        longitude: -9.4,
        elevationM,
      });
      return altitudeDeg - trueAltitudeDeg;
    };
    expect(lift(2000) / lift(0)).toBeCloseTo(0.7846, 3);
  });

  it.each([
    [{ pressureHPa: 299 }, "pressureHPa"],
    [{ pressureHPa: Number.NaN }, "pressureHPa"],
    [{ temperatureC: -91 }, "temperatureC"],
    [{ temperatureC: Number.POSITIVE_INFINITY }, "temperatureC"],
  ])("refuses the air %j", (atmosphere, param) => {
    expect(() => refractionDeg(0, atmosphere)).toThrow(expect.objectContaining({ param }));
    expect(() => trueFromApparentDeg(0, atmosphere)).toThrow(DomainError);
  });

  it("refuses altitudes that are none", () => {
    for (const ask of [refractionDeg, refractionSeenDeg, trueFromApparentDeg]) {
      for (const h of [90.001, -91, Number.NaN]) expect(() => ask(h)).toThrow(DomainError);
    }
  });
});
