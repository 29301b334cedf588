import { ev100FromIlluminance, lightCurveFromModel } from "@fieldstop/core/exposure";
import { cloudEffect, moonPhase, openSkyLight, openSkyLightOver } from "@fieldstop/core/sky";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const DAY_MS = 86_400_000;
const strand = { latitude: 56.6, longitude: -9.4 };
const instant = fc.integer({ min: Date.UTC(1950, 0, 1), max: Date.UTC(2050, 0, 1) });

describe("@examples", () => {
  it("openSkyLight(Date.UTC(2027, 5, 21, 13), …).ev100", () => {
    expect(openSkyLight(Date.UTC(2027, 5, 21, 13), strand).ev100).toBeCloseTo(15.3, 1);
  });
});

describe("openSkyLight", () => {
  it("is the sum of its parts, read as an incident-light meter reads it", () => {
    fc.assert(
      fc.property(instant, fc.double({ min: -90, max: 90, noNaN: true }), (ms, latitude) => {
        const light = openSkyLight(ms, { latitude, longitude: 10 });
        expect(light.illuminanceLux).toBeCloseTo(light.sunLux + light.moonLux + light.nightGlowLux, 9);
        expect(light.ev100).toBeCloseTo(ev100FromIlluminance(light.illuminanceLux), 9);
        expect(light.moonLux).toBeLessThan(0.4);
        expect(light.ev100).toBeGreaterThan(-12);
        expect(light.ev100).toBeLessThan(16);
      }),
    );
  });

  it("is dimmed by cloud, in every part", () => {
    const ms = Date.UTC(2027, 5, 21, 13);
    const cover = { low: 100, middle: 0, high: 0 };
    const clear = openSkyLight(ms, strand);
    const grey = openSkyLight(ms, strand, cover);
    expect(grey.illuminanceLux / clear.illuminanceLux).toBeCloseTo(cloudEffect(cover).transmittance, 9);
    expect(clear.ev100 - grey.ev100).toBeCloseTo(2, 9);
  });

  it("reckons with the phase of the moon", () => {
    // full moon on 22 March 2027, 10:44 UT; new moon on 6 April, 23:51 UT
    const full = openSkyLight(Date.UTC(2027, 2, 22, 1), strand);
    const dark = openSkyLight(Date.UTC(2027, 3, 7, 1), strand);
    expect(moonPhase(Date.UTC(2027, 2, 22, 1)).illuminatedFraction).toBeGreaterThan(0.99);
    expect(full.moonLux).toBeGreaterThan(0.05);
    expect(dark.moonLux).toBeLessThan(1e-5);
    expect(dark.ev100).toBeCloseTo(ev100FromIlluminance(0.001), 0);
  });

  it("is the same asked over a span, and makes a light curve", () => {
    const startMs = Date.UTC(2027, 2, 20);
    const lightAt = openSkyLightOver(startMs, startMs + DAY_MS, strand);
    for (let ms = startMs; ms <= startMs + DAY_MS; ms += 1_234_567) {
      expect(lightAt(ms).ev100).toBeCloseTo(openSkyLight(ms, strand).ev100, 4);
    }
    const curve = lightCurveFromModel((ms) => lightAt(ms).ev100, startMs, startMs + DAY_MS);
    expect(Math.max(...curve.ev100)).toBeGreaterThan(14);
    expect(Math.min(...curve.ev100)).toBeLessThan(-3);
  });
});
