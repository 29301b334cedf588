import { type MoonPhaseName, moonPhase, moonPosition, moonSemidiameterDeg } from "@fieldstop/core/sky";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;
const instant = fc.integer({ min: Date.UTC(1900, 0, 1), max: Date.UTC(2100, 11, 31) });

describe("@examples", () => {
  it("moonPosition(Date.UTC(2027, 2, 20, 22), …).distanceKm", () => {
    expect(moonPosition(Date.UTC(2027, 2, 20, 22), { latitude: 56.6, longitude: -9.4 }).distanceKm).toBeCloseTo(
      368_130,
      -2,
    );
  });
  it("moonPhase(Date.UTC(2027, 2, 22, 10, 44)).phaseName", () => {
    expect(moonPhase(Date.UTC(2027, 2, 22, 10, 44)).phaseName).toBe("full-moon");
  });
});

describe("moonPosition", () => {
  // Meeus 1998, Astronomical Algorithms, ch. 50: extreme distances of the moon, 356,371 and 406,720 km, and the discs they make
  it("keeps the distance and the disc between their extremes", () => {
    fc.assert(
      fc.property(instant, fc.double({ min: -90, max: 90, noNaN: true }), (ms, latitude) => {
        const { distanceKm, semidiameterDeg } = moonPosition(ms, { latitude, longitude: 0 });
        expect(distanceKm).toBeGreaterThan(356_350);
        expect(distanceKm).toBeLessThan(406_750);
        expect(semidiameterDeg).toBeGreaterThan(0.24);
        expect(semidiameterDeg).toBeLessThan(0.285);
      }),
    );
  });

  // Meeus 1998, ch. 55: overhead the disc is larger than on the horizon by the earth's radius over the distance, one part in sixty
  it("sees a larger disc the higher the moon stands", () => {
    fc.assert(
      fc.property(instant, fc.double({ min: -60, max: 60, noNaN: true }), (ms, latitude) => {
        const { distanceKm, semidiameterDeg, trueAltitudeDeg } = moonPosition(ms, { latitude, longitude: 20 });
        const growth = semidiameterDeg / moonSemidiameterDeg(distanceKm) - 1;
        expect(growth).toBeCloseTo((Math.sin((trueAltitudeDeg * Math.PI) / 180) * 6378) / distanceKm, 3);
      }),
    );
  });
});

describe("moonPhase", () => {
  it("tells the lit part by the phase angle, and keeps to its ranges", () => {
    fc.assert(
      fc.property(instant, (ms) => {
        const { illuminatedFraction, phase, phaseAngleDeg } = moonPhase(ms);
        expect(illuminatedFraction).toBeCloseTo((1 + Math.cos((phaseAngleDeg * Math.PI) / 180)) / 2, 10);
        expect(phase).toBeGreaterThanOrEqual(0);
        expect(phase).toBeLessThan(1);
        // half of the disc is lit near the quarters, all of it near the middle of the round
        expect(Math.abs(illuminatedFraction - (1 - Math.cos(2 * Math.PI * phase)) / 2)).toBeLessThan(0.01);
      }),
    );
  });

  it("goes through its names in order, each principal phase lasting about a day, once in a month", () => {
    const names: MoonPhaseName[] = [];
    const hours: Partial<Record<MoonPhaseName, number>> = {};
    const newMoon = Date.UTC(2027, 0, 7, 20);
    for (let ms = newMoon - 3 * DAY_MS; ms < newMoon + 27 * DAY_MS; ms += HOUR_MS) {
      const { phaseName } = moonPhase(ms);
      hours[phaseName] = (hours[phaseName] ?? 0) + 1;
      if (names.at(-1) !== phaseName) names.push(phaseName);
    }
    expect(names).toEqual([
      "waning-crescent",
      "new-moon",
      "waxing-crescent",
      "first-quarter",
      "waxing-gibbous",
      "full-moon",
      "waning-gibbous",
      "last-quarter",
      "waning-crescent",
    ]);
    for (const name of ["new-moon", "first-quarter", "full-moon", "last-quarter"] as const) {
      expect(hours[name]).toBeGreaterThan(18);
      expect(hours[name]).toBeLessThan(30);
    }
  });

  it("always moves on", () => {
    fc.assert(
      fc.property(instant, (ms) => {
        const step = (moonPhase(ms + HOUR_MS).phase - moonPhase(ms).phase + 1) % 1;
        // 29.53 days for a round, faster near the earth and slower far from it
        expect(step * 24 * 29.53).toBeGreaterThan(0.8);
        expect(step * 24 * 29.53).toBeLessThan(1.3);
      }),
    );
  });
});
