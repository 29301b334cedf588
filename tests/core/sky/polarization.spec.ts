import { DomainError } from "@fieldstop/core";
import {
  airPolarizationMaximum,
  maximumPolarization,
  rayleighPolarization,
  type SkyPoint,
  skyPolarization,
} from "@fieldstop/core/sky";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const azimuths = fc.double({ min: 0, max: 360, noNaN: true });
const altitudes = fc.double({ min: -80, max: 80, noNaN: true });
const points = fc.record({ azimuthDeg: azimuths, altitudeDeg: altitudes });
const suns = fc.record({ azimuthDeg: azimuths, altitudeDeg: fc.double({ min: -5, max: 80, noNaN: true }) });
const percent = fc.double({ min: 0, max: 100, noNaN: true });
const covers = fc.record({ low: percent, middle: percent, high: percent });
const turbidities = fc.double({ min: 1, max: 15, noNaN: true });

type Vector = readonly [number, number, number];
const rad = Math.PI / 180;
const along = ({ azimuthDeg, altitudeDeg }: SkyPoint): Vector => [
  Math.cos(altitudeDeg * rad) * Math.sin(azimuthDeg * rad),
  Math.cos(altitudeDeg * rad) * Math.cos(azimuthDeg * rad),
  Math.sin(altitudeDeg * rad),
];
const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** The way the light swings, as a vector in space. */
function swing(point: SkyPoint, directionDeg: number): Vector {
  const up = along({ azimuthDeg: point.azimuthDeg, altitudeDeg: point.altitudeDeg + 90 });
  const right = along({ azimuthDeg: point.azimuthDeg + 90, altitudeDeg: 0 });
  const [c, s] = [Math.cos(directionDeg * rad), Math.sin(directionDeg * rad)];
  return [up[0] * c + right[0] * s, up[1] * c + right[1] * s, up[2] * c + right[2] * s];
}

describe("@examples", () => {
  it("hold", () => {
    expect(rayleighPolarization(60, 0.8)).toBeCloseTo(0.48, 12);
    expect(airPolarizationMaximum()).toBeCloseTo(0.945715, 6);
    expect(maximumPolarization({ turbidity: 2.12 })).toBeCloseTo(0.695, 3);
    const at = skyPolarization({ azimuthDeg: 270, altitudeDeg: 0 }).toward(0, 0);
    expect(at.degree).toBeCloseTo(0.695, 3);
    expect(at.directionDeg).toBeCloseTo(0, 9);
    expect(at.fromSunDeg).toBeCloseTo(90, 9);
  });
});

describe("rayleighPolarization", () => {
  it("is nothing toward the sun and opposite it, most at a quarter turn, and the same on both sides of that", () => {
    expect(rayleighPolarization(0)).toBe(0);
    expect(rayleighPolarization(180)).toBe(0);
    expect(rayleighPolarization(90)).toBe(1);
    fc.assert(
      fc.property(fc.double({ min: 0, max: 180, noNaN: true }), (deg) => {
        const p = rayleighPolarization(deg);
        expect(p).toBeGreaterThanOrEqual(0);
        expect(p).toBeLessThanOrEqual(1);
        expect(rayleighPolarization(180 - deg)).toBeCloseTo(p, 12);
      }),
    );
  });

  it("refuses angles and maxima that are none", () => {
    for (const [deg, maximum] of [
      [-1, 1],
      [181, 1],
      [Number.NaN, 1],
      [90, 1.1],
      [90, -0.1],
    ] as const) {
      expect(() => rayleighPolarization(deg, maximum)).toThrow(DomainError);
    }
    expect(() => airPolarizationMaximum(0.6)).toThrow(DomainError);
  });
});

describe("maximumPolarization", () => {
  it("goes from 0.85 in very clear air to nothing under an overcast, never up with haze or cloud", () => {
    expect(maximumPolarization({ turbidity: 1 })).toBeCloseTo(0.85, 2);
    expect(maximumPolarization({ cloudCover: { low: 100, middle: 0, high: 0 } })).toBe(0);
    fc.assert(
      fc.property(turbidities, turbidities, covers, (a, b, cloudCover) => {
        const clear = maximumPolarization({ turbidity: Math.min(a, b) });
        expect(maximumPolarization({ turbidity: Math.max(a, b) })).toBeLessThanOrEqual(clear);
        expect(maximumPolarization({ turbidity: Math.min(a, b), cloudCover })).toBeLessThanOrEqual(clear);
        expect(clear).toBeLessThan(airPolarizationMaximum());
      }),
    );
  });

  it("refuses a turbidity that is none", () => {
    expect(() => maximumPolarization({ turbidity: 0.9 })).toThrow(DomainError);
  });
});

describe("skyPolarization", () => {
  it("takes the angle from the sun for its degree, and swings square to the plane through sun, point and eye", () => {
    fc.assert(
      fc.property(suns, points, (sun, point) => {
        const sky = skyPolarization(sun);
        const { degree, directionDeg, fromSunDeg } = sky.toward(point.azimuthDeg, point.altitudeDeg);
        const cosine = dot(along(sun), along(point));
        expect(Math.cos(fromSunDeg * rad)).toBeCloseTo(cosine, 9);
        expect(degree).toBeCloseTo(rayleighPolarization(fromSunDeg, sky.maximum), 9);
        expect(directionDeg).toBeGreaterThanOrEqual(0);
        expect(directionDeg).toBeLessThan(180);
        if (Math.abs(cosine) > 0.999) return;
        expect(dot(swing(point, directionDeg), along(sun))).toBeCloseTo(0, 9);
      }),
    );
  });

  it("is the same mirrored in the upright plane through the sun", () => {
    fc.assert(
      fc.property(suns, fc.double({ min: 1, max: 179, noNaN: true }), altitudes, (sun, aside, altitude) => {
        const sky = skyPolarization(sun);
        const right = sky.toward(sun.azimuthDeg + aside, altitude);
        const left = sky.toward(sun.azimuthDeg - aside, altitude);
        expect(left.degree).toBeCloseTo(right.degree, 9);
        // the upright is its own mirror image
        expect(Math.sin((left.directionDeg + right.directionDeg) * rad)).toBeCloseTo(0, 7);
      }),
    );
  });

  it("is not polarized at the sun itself, nor opposite it", () => {
    const sky = skyPolarization({ azimuthDeg: 100, altitudeDeg: 20 });
    expect(sky.toward(100, 20)).toMatchObject({ degree: 0, directionDeg: 0 });
    expect(sky.toward(280, -20).degree).toBeCloseTo(0, 12);
  });

  it("fades through dusk, and is gone when the sun is 18° down", () => {
    const at = (altitudeDeg: number) => skyPolarization({ azimuthDeg: 270, altitudeDeg }).maximum;
    expect(at(-6)).toBe(at(30));
    expect(at(-12)).toBeCloseTo(at(30) / 2, 12);
    expect(at(-18)).toBe(0);
    expect(at(-40)).toBe(0);
  });

  it("refuses a sun that is nowhere", () => {
    expect(() => skyPolarization({ azimuthDeg: 0, altitudeDeg: 91 })).toThrow(DomainError);
    expect(() => skyPolarization({ azimuthDeg: Number.NaN, altitudeDeg: 0 })).toThrow(DomainError);
  });
});
