import { type TideCurve, tideHeightAt, tideTrend } from "@fieldstop/core/water";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const STEP_MS = 600_000;
const HOUR_MS = 3_600_000;
// a tide of 10 m, with the speeds of M2, S2 and M4 [deg/h] (as NOAA lists them) and heights each 10 min
const height = (ms: number): number => {
  const wave = (amplitudeM: number, degPerHour: number, phaseDeg: number): number =>
    amplitudeM * Math.cos((((degPerHour * ms) / HOUR_MS - phaseDeg) * Math.PI) / 180);
  return 6 + wave(3.6, 28.984104, 40) + wave(1.2, 30, 95) + wave(0.2, 57.96821, 10);
};
const startMs = Date.parse("2027-03-20T00:00:00Z");
const curve: TideCurve = {
  startMs,
  stepMs: STEP_MS,
  heightsM: Array.from({ length: 289 }, (_, i) => height(startMs + i * STEP_MS)),
};
const lastMs = startMs + 288 * STEP_MS;

describe("@examples", () => {
  it("reads a height between two", () => {
    expect(tideHeightAt({ startMs: 0, stepMs: 600_000, heightsM: [1, 1.1, 1.2, 1.3] }, 900_000)).toBeCloseTo(1.15, 12);
  });
});

describe("tideHeightAt", () => {
  it("follows a tide of 10 m to a tenth of a millimetre", () => {
    let worst = 0;
    for (let ms = startMs; ms <= lastMs; ms += 37_000) {
      worst = Math.max(worst, Math.abs(tideHeightAt(curve, ms) - height(ms)));
    }
    expect(worst).toBeLessThan(1e-4);
    expect(worst).toBeGreaterThan(1e-7);
  });

  it("gives the heights that it was given, the first and the last among them", () => {
    for (const [i, heightM] of curve.heightsM.entries()) {
      expect(tideHeightAt(curve, startMs + i * STEP_MS)).toBeCloseTo(heightM, 12);
    }
  });

  it("is exact for whatever is a cubic in time", () => {
    const coefficient = fc.double({ min: -5, max: 5, noNaN: true });
    fc.assert(
      fc.property(
        fc.tuple(coefficient, coefficient, coefficient, coefficient),
        fc.double({ min: 0, max: 1, noNaN: true }),
        ([a, b, c, d], part) => {
          const cubic = (x: number): number => a + b * x + c * x ** 2 + d * x ** 3;
          const heightsM = Array.from({ length: 7 }, (_, i) => cubic(i / 6));
          expect(tideHeightAt({ startMs: 0, stepMs: 1000, heightsM }, part * 6000)).toBeCloseTo(cubic(part), 9);
        },
      ),
    );
  });

  it.each([
    ["before the first height", startMs - 1],
    ["after the last", lastMs + 1],
    ["at no instant", Number.NaN],
  ])("refuses an instant %s", (_, ms) => {
    expect(() => tideHeightAt(curve, ms)).toThrow(expect.objectContaining({ name: "DomainError", param: "instantMs" }));
  });

  it("refuses fewer than four heights", () => {
    expect(() => tideHeightAt({ ...curve, heightsM: [1, 2, 3] }, startMs)).toThrow(
      expect.objectContaining({ param: "heightsM" }),
    );
  });
});

describe("tideTrend", () => {
  it("says whether the water comes or goes, at the ends of the curve too", () => {
    for (let ms = startMs; ms <= lastMs; ms += 20 * 60_000) {
      const slope = height(ms + 1000) - height(ms - 1000);
      if (Math.abs(slope) > 1e-5) expect(tideTrend(curve, ms)).toBe(slope > 0 ? "rising" : "falling");
    }
    expect(tideTrend(curve, lastMs)).toBe(height(lastMs) > height(lastMs - 60_000) ? "rising" : "falling");
  });
});
