import { DomainError } from "@fieldstop/core";
import { moonIlluminanceLux, nightGlowLux, sunIlluminanceLux } from "@fieldstop/core/sky";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const altitude = fc.double({ min: -90, max: 90, noNaN: true });

describe("@examples", () => {
  it("sunIlluminanceLux(-6)", () => expect(sunIlluminanceLux(-6)).toBeCloseTo(3.41, 2));
  it("moonIlluminanceLux(60, 0)", () => expect(moonIlluminanceLux(60, 0)).toBeCloseTo(0.216, 3));
});

describe("illuminance by altitude", () => {
  it("grows with the altitude, of the sun and of the moon", () => {
    fc.assert(
      fc.property(altitude, altitude, fc.double({ min: 0, max: 180, noNaN: true }), (a, b, phase) => {
        if (b - a < 0.001) return;
        expect(sunIlluminanceLux(b)).toBeGreaterThan(sunIlluminanceLux(a));
        expect(moonIlluminanceLux(b, phase)).toBeGreaterThan(moonIlluminanceLux(a, phase));
      }),
    );
  });

  it("has no steps: a thousandth of a degree is less than a hundredth of a stop", () => {
    let steepest = 0;
    for (let i = -89_999; i <= 90_000; i++) {
      const [low, high] = [(i - 1) / 1000, i / 1000];
      steepest = Math.max(steepest, Math.log2(sunIlluminanceLux(high) / sunIlluminanceLux(low)));
      steepest = Math.max(steepest, Math.log2(moonIlluminanceLux(high, 0) / moonIlluminanceLux(low, 0)));
    }
    expect(steepest).toBeLessThan(0.01);
  });

  it("fades below the last printed altitude, into what the stars give", () => {
    expect(sunIlluminanceLux(-18)).toBeLessThan(nightGlowLux);
    expect(sunIlluminanceLux(-24)).toBeLessThan(nightGlowLux / 20);
    expect(sunIlluminanceLux(-90)).toBeLessThan(1e-12);
  });
});

describe("moonlight", () => {
  it("falls from full to new, and with the square of the distance", () => {
    const light = [0, 30, 60, 90, 120, 150, 180].map((phase) => moonIlluminanceLux(45, phase));
    for (let i = 1; i < light.length; i++) expect(light[i]).toBeLessThan(light[i - 1] as number);
    expect(moonIlluminanceLux(45, 0, 356_500) / moonIlluminanceLux(45, 0, 406_700)).toBeCloseTo(
      (406.7 / 356.5) ** 2,
      9,
    );
  });
});

describe("the domain", () => {
  it("refuses by name", () => {
    for (const h of [90.1, Number.NaN, Number.NEGATIVE_INFINITY]) {
      expect(() => sunIlluminanceLux(h)).toThrow(expect.objectContaining({ param: "trueAltitudeDeg" }));
    }
    expect(() => moonIlluminanceLux(0, 181)).toThrow(expect.objectContaining({ param: "phaseAngleDeg" }));
    expect(() => moonIlluminanceLux(0, 0, 0)).toThrow(DomainError);
  });
});
