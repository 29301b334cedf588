import { DomainError } from "@fieldstop/core";
import { type CloudCover, cloudEffect, coverTransmittance } from "@fieldstop/core/sky";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const percent = fc.double({ min: 0, max: 100, noNaN: true });
const covers = fc.record({ low: percent, middle: percent, high: percent });
const LEVELS = ["low", "middle", "high"] as const;

describe("@examples", () => {
  it("hold", () => {
    expect(coverTransmittance(50)).toBeCloseTo(0.928951, 6);
    expect(cloudEffect({ low: 100, middle: 0, high: 0 })).toEqual({
      transmittance: 0.25,
      directTransmittance: 0,
      overcastness: 1,
    });
  });
});

describe("cloudEffect", () => {
  it("leaves a clear sky alone", () => {
    expect(cloudEffect({ low: 0, middle: 0, high: 0 })).toEqual({
      transmittance: 1,
      directTransmittance: 1,
      overcastness: 0,
    });
  });

  it("keeps every share between none and all, and never lets the beam outlast the whole", () => {
    fc.assert(
      fc.property(covers, (cover) => {
        const { transmittance, directTransmittance, overcastness } = cloudEffect(cover);
        expect(transmittance).toBeGreaterThan(0);
        expect(transmittance).toBeLessThanOrEqual(1);
        expect(directTransmittance).toBeGreaterThanOrEqual(0);
        expect(directTransmittance).toBeLessThanOrEqual(transmittance + 1e-12);
        expect(overcastness).toBeCloseTo(1 - directTransmittance, 12);
      }),
    );
  });

  it("never brightens as a level closes", () => {
    fc.assert(
      fc.property(covers, fc.constantFrom(...LEVELS), percent, (cover, level, other) => {
        const more: CloudCover = { ...cover, [level]: Math.max(cover[level], other) };
        const before = cloudEffect(cover);
        const after = cloudEffect(more);
        expect(after.transmittance).toBeLessThanOrEqual(before.transmittance + 1e-12);
        expect(after.directTransmittance).toBeLessThanOrEqual(before.directTransmittance + 1e-12);
      }),
    );
  });

  it("lets decks that scatter pass more together than one through the other", () => {
    const alone = LEVELS.map((level) => cloudEffect({ low: 0, middle: 0, high: 0, [level]: 100 }).transmittance);
    const product = alone.reduce((a, b) => a * b, 1);
    const together = cloudEffect({ low: 100, middle: 100, high: 100 }).transmittance;
    expect(together).toBeGreaterThan(2 * product);
    expect(together).toBeLessThan(Math.min(...alone));
  });

  // two layers of reflectance 1 − T: T1·T2·(1 + R1·R2 + (R1·R2)² + …)
  it("sums the light thrown back and forth between two decks", () => {
    const low = 0.25;
    const high = 0.61;
    let sum = 0;
    for (let bounce = 0; bounce < 200; bounce++) sum += low * high * ((1 - low) * (1 - high)) ** bounce;
    expect(cloudEffect({ low: 100, middle: 0, high: 100 }).transmittance).toBeCloseTo(sum, 12);
  });

  it.each(LEVELS)("refuses a %s cover beyond 0 to 100 per cent by its name", (level) => {
    for (const bad of [-1, 140, Number.NaN, Number.POSITIVE_INFINITY]) {
      const refused = (): unknown => cloudEffect({ low: 0, middle: 0, high: 0, [level]: bad });
      expect(refused).toThrow(DomainError);
      expect(refused).toThrow(`sky.cloudCover.${level}`);
    }
  });
});
