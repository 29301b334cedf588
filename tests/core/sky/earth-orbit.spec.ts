import { describe, expect, it } from "vitest";
import { earthOrbit, ORBIT } from "../../../packages/core/src/sky/earth-orbit";
import table from "./earth-longitude.json";

// Reda & Andreas 2008, NREL/TP-560-34302, table A4.2, L0 to L5, whole: amplitude [1e-8 rad], phase [rad], frequency [rad per 1000 years]
const series = [table.L0, table.L1, table.L2, table.L3, table.L4, table.L5] as unknown as readonly (readonly (readonly [
  number,
  number,
  number,
])[])[];
const ARCSECONDS = (180 / Math.PI) * 3600;

/** The sun's geometric longitude [rad] by the whole table, or by the terms that `keep` lets pass. */
function longitude(t: number, keep: (power: number, amplitude: number, frequency: number) => boolean): number {
  let sum = 0;
  for (const [power, terms] of series.entries()) {
    for (const [amplitude, phase, frequency] of terms) {
      if (keep(power, amplitude, frequency)) sum += amplitude * Math.cos(phase + frequency * t) * t ** power;
    }
  }
  return sum * 1e-8 + Math.PI;
}

/** Errors [″] over the years 1900 to 2100. */
function errors(keep: (power: number, amplitude: number, frequency: number) => boolean): number[] {
  return Array.from({ length: 4001 }, (_, i) => {
    const t = -0.1 + (0.2 * i) / 4000;
    earthOrbit(t);
    const difference = Math.atan2(ORBIT[1] as number, ORBIT[0] as number) - longitude(t, keep);
    return (difference - 2 * Math.PI * Math.round(difference / (2 * Math.PI))) * ARCSECONDS;
  });
}

const rms = (values: readonly number[]): number => Math.sqrt(values.reduce((sum, x) => sum + x * x, 0) / values.length);
const largest = (values: readonly number[]): number => Math.max(...values.map(Math.abs));

// the terms of the table that are summed; the frequencies of those that stand apart from the rest by size
const SMALL_BUT_SUMMED = [132, 115, 102, 74];
const LEFT_OUT = [205, 202, 156];
const kept = (power: number, amplitude: number, frequency: number): boolean => {
  if (frequency === 0) return power <= 2;
  if (power === 0) {
    if (SMALL_BUT_SUMMED.includes(amplitude)) return [2942.463, 0.98, 7.114, 3154.69].includes(frequency);
    return amplitude > 200 && !LEFT_OUT.includes(amplitude);
  }
  return power === 1 ? amplitude > 400 : power === 2 && amplitude > 4000;
};

describe("earthOrbit", () => {
  it("sums the terms it names as the table has them: no product of phasors stands for a wrong argument", () => {
    expect(series.flat()).toHaveLength(64 + 34 + 20 + 7 + 3 + 1);
    expect(series.flatMap((terms, power) => terms.filter(([a, , f]) => kept(power, a, f)))).toHaveLength(34);
    // what is left is the curve of the slow terms, which are straight lines here
    expect(largest(errors(kept))).toBeLessThan(0.1);
  });

  it("leaves out of the whole table less than an arc second in the mean", () => {
    const missing = errors(() => true);
    expect(rms(missing)).toBeLessThan(0.85);
    expect(largest(missing)).toBeLessThan(3.2);
  });

  // Meeus 1998, Astronomical Algorithms, ch. 38: perihelion and aphelion of the earth lie between these bounds
  it("keeps the distance between perihelion and aphelion", () => {
    const distances = Array.from({ length: 3000 }, (_, i) => {
      earthOrbit(-0.1 + (0.2 * i) / 3000);
      return ORBIT[2] as number;
    });
    expect(Math.min(...distances)).toBeGreaterThan(0.9831);
    expect(Math.max(...distances)).toBeLessThan(1.0169);
    earthOrbit(0.0001);
    expect(Math.hypot(ORBIT[0] as number, ORBIT[1] as number)).toBeCloseTo(1, 9);
  });
});
