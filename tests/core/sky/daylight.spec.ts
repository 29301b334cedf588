import { DomainError } from "@fieldstop/core";
import { availableSkyLux, clearBeamLux, relativeAirMass, splitDaylight } from "@fieldstop/core/sky";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const altitudes = fc.double({ min: -90, max: 90, noNaN: true });
const totals = fc.double({ min: 0, max: 130_000, noNaN: true });
const percent = fc.double({ min: 0, max: 100, noNaN: true });
const skies = fc.record({
  cloudCover: fc.record({ low: percent, middle: percent, high: percent }),
  turbidity: fc.double({ min: 1, max: 15, noNaN: true }),
});
const sin = (deg: number): number => Math.sin((deg * Math.PI) / 180);

describe("@examples", () => {
  it("hold", () => {
    expect(availableSkyLux("clear", 30)).toBeCloseTo(11_760.2, 1);
    expect(relativeAirMass(30)).toBeCloseTo(1.99429, 5);
    expect(clearBeamLux(30)).toBeCloseTo(83_855, 0);
    const { illuminanceLux, directNormalLux, directLux, diffuseLux } = splitDaylight(51_321, 30);
    expect(illuminanceLux).toBeCloseTo(51_321, 6);
    expect(directNormalLux).toBeCloseTo(80_158, 0);
    expect(directLux).toBeCloseTo(40_079, 0);
    expect(diffuseLux).toBeCloseTo(11_242, 0);
  });
});

describe("splitDaylight", () => {
  it("keeps the total of a clear sky, beam and sky adding up to it", () => {
    fc.assert(
      fc.property(totals, altitudes, (total, altitude) => {
        const { illuminanceLux, directLux, diffuseLux } = splitDaylight(total, altitude);
        expect(illuminanceLux).toBeCloseTo(total, 6);
        expect(directLux + diffuseLux).toBeCloseTo(total, 6);
      }),
    );
  });

  it("gives nothing negative, and as much beam on level ground as its height allows, whatever the sky", () => {
    fc.assert(
      fc.property(totals, altitudes, skies, (total, altitude, sky) => {
        const light = splitDaylight(total, altitude, sky);
        for (const value of Object.values(light)) {
          expect(Number.isFinite(value)).toBe(true);
          expect(value).toBeGreaterThanOrEqual(-1e-9);
        }
        expect(light.directLux).toBeCloseTo(light.directNormalLux * Math.max(0, sin(altitude)), 6);
        expect(light.illuminanceLux).toBeLessThanOrEqual(1.2 * total + 1e-9);
      }),
    );
  });

  it("has no beam left once the disc is down, and no step as it goes", () => {
    for (const altitude of [-0.27, -1, -6, -18, -90]) expect(splitDaylight(600, altitude).directNormalLux).toBe(0);
    let before = splitDaylight(900, 1).directNormalLux;
    for (let altitude = 0.99; altitude > -0.3; altitude -= 0.01) {
      const now = splitDaylight(900, altitude).directNormalLux;
      expect(Math.abs(now - before)).toBeLessThan(12);
      before = now;
    }
  });

  it("moves light from beam to sky as the air grows turbid, and loses some", () => {
    let before = splitDaylight(80_000, 45, { turbidity: 1 });
    for (let turbidity = 1.5; turbidity <= 15; turbidity += 0.5) {
      const now = splitDaylight(80_000, 45, { turbidity });
      expect(now.directLux).toBeLessThan(before.directLux);
      expect(now.diffuseLux).toBeGreaterThan(before.diffuseLux);
      expect(now.illuminanceLux).toBeLessThan(before.illuminanceLux);
      before = now;
    }
  });

  // IES 1984 gives its partly cloudy sky 45 klx·sin h of sky light, four times the clear sky's: broken cloud is bright
  it("makes half a cover of low cloud as bright a sky as the partly cloudy one, within half a stop", () => {
    for (const [altitude, total] of [
      [20, 30_600],
      [45, 80_000],
      [60, 103_000],
    ] as const) {
      const { diffuseLux } = splitDaylight(total, altitude, { cloudCover: { low: 50, middle: 0, high: 0 } });
      expect(Math.abs(Math.log2(diffuseLux / availableSkyLux("partly-cloudy", altitude)))).toBeLessThan(0.5);
    }
  });

  it("makes a closed low deck as bright as the cloudy sky, within two thirds of a stop", () => {
    for (const [altitude, total] of [
      [10, 11_230],
      [30, 51_300],
      [60, 103_000],
    ] as const) {
      const { diffuseLux, directLux } = splitDaylight(total, altitude, {
        cloudCover: { low: 100, middle: 0, high: 0 },
      });
      expect(directLux).toBe(0);
      expect(Math.abs(Math.log2(diffuseLux / availableSkyLux("cloudy", altitude)))).toBeLessThan(2 / 3);
    }
  });

  it.each([
    [() => splitDaylight(-1, 10), "clearLux"],
    [() => splitDaylight(Number.NaN, 10), "clearLux"],
    [() => splitDaylight(1000, 91), "altitudeDeg"],
    [() => splitDaylight(1000, 10, { turbidity: 0.5 }), "sky.turbidity"],
    [() => splitDaylight(1000, 10, { cloudCover: { low: 140, middle: 0, high: 0 } }), "sky.cloudCover.low"],
    [() => availableSkyLux("clear", Number.NaN), "altitudeDeg"],
    [() => relativeAirMass(-91), "altitudeDeg"],
    [() => clearBeamLux(10, 16), "turbidity"],
  ])("refuses what is out of range by its name (%#)", (call, param) => {
    expect(call).toThrow(DomainError);
    expect(call).toThrow(`${param}:`);
  });
});
