import { incidenceCosine } from "@fieldstop/core/light";
import { sunPosition, sunTrack } from "@fieldstop/core/sky";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { facedIntervals } from "../../../packages/core/src/light/facing";

const DAY_MS = 86_400_000;
const at = (azimuthDeg: number, altitudeDeg: number) => ({ azimuthDeg, altitudeDeg, trueAltitudeDeg: altitudeDeg });

describe("@examples", () => {
  it("gives a wall the cosine of the altitude of a sun before it", () => {
    const sun = { azimuthDeg: 180, altitudeDeg: 60, trueAltitudeDeg: 60 };
    expect(incidenceCosine(sun, { facingAzimuthDeg: 180, slopeDeg: 90 })).toBeCloseTo(0.5, 12);
  });
});

describe("incidenceCosine", () => {
  it.each([
    ["level ground takes the sine of the altitude", at(123, 30), { facingAzimuthDeg: 7, slopeDeg: 0 }, 0.5],
    ["a wall that looks at a sun on the horizon takes all", at(270, 0), { facingAzimuthDeg: 270, slopeDeg: 90 }, 1],
    [
      "a wall takes the cosine of the altitude of a sun before it",
      at(180, 60),
      { facingAzimuthDeg: 180, slopeDeg: 90 },
      0.5,
    ],
    ["a wall at right angles takes none", at(180, 20), { facingAzimuthDeg: 90, slopeDeg: 90 }, 0],
    ["a slope tilted to the sun takes all", at(180, 50), { facingAzimuthDeg: 180, slopeDeg: 40 }, 1],
    ["an underside looks away from a sun overhead", at(0, 90), { facingAzimuthDeg: 0, slopeDeg: 180 }, -1],
  ])("%s", (_what, sun, facing, cosine) => {
    expect(incidenceCosine(sun, facing)).toBeCloseTo(cosine, 12);
  });

  it("is the scalar product of two unit vectors, and so the same with sun and upright changed about", () => {
    const azimuth = fc.double({ min: 0, max: 360, noNaN: true });
    const altitude = fc.double({ min: -90, max: 90, noNaN: true });
    fc.assert(
      fc.property(azimuth, altitude, azimuth, altitude, (sunAzimuth, sunAltitude, facingAzimuthDeg, upright) => {
        const one = incidenceCosine(at(sunAzimuth, sunAltitude), { facingAzimuthDeg, slopeDeg: 90 - upright });
        const other = incidenceCosine(at(facingAzimuthDeg, upright), {
          facingAzimuthDeg: sunAzimuth,
          slopeDeg: 90 - sunAltitude,
        });
        expect(one).toBeCloseTo(other, 12);
        expect(Math.abs(one)).toBeLessThanOrEqual(1 + 1e-12);
      }),
    );
  });
});

describe("facedIntervals", () => {
  it("has every turn of a surface to or from the sun, on any day, against each minute's own position", () => {
    let edges = 0;
    fc.assert(
      fc.property(
        fc.double({ min: -90, max: 90, noNaN: true }),
        fc.integer({ min: Date.UTC(1900, 0, 2), max: Date.UTC(2100, 11, 30) }),
        fc.double({ min: 0, max: 360, noNaN: true }),
        fc.double({ min: 0, max: 180, noNaN: true }),
        (latitude, startMs, facingAzimuthDeg, slopeDeg) => {
          const facing = { facingAzimuthDeg, slopeDeg };
          const observer = { latitude, longitude: 3 };
          const intervals = facedIntervals(
            sunTrack(startMs, startMs + DAY_MS, observer),
            startMs,
            startMs + DAY_MS,
            facing,
          );
          for (let minute = 0; minute <= 1440; minute += 3) {
            const ms = startMs + minute * 60_000;
            const cosine = incidenceCosine(sunPosition(ms, observer), facing);
            if (Math.abs(cosine) < 1e-6) continue;
            expect(intervals.some(([from, to]) => from <= ms && ms <= to)).toBe(cosine > 0);
          }
          for (const edge of intervals.flat()) {
            if (edge === startMs || edge === startMs + DAY_MS) continue;
            edges++;
            expect(Math.abs(incidenceCosine(sunPosition(edge, observer), facing))).toBeLessThan(1e-5);
          }
        },
      ),
      { numRuns: 200, seed: 6 },
    );
    expect(edges).toBeGreaterThan(250);
  });

  it("turns its surface twice in a day in which the sun only just comes round to it", () => {
    // the sun's least angle to the plane of a wall at the equinox, from the south-west: a slope that just misses it, and one that just does not
    const startMs = Date.UTC(2027, 5, 21);
    const observer = { latitude: 56.6, longitude: 0 };
    const track = sunTrack(startMs, startMs + DAY_MS, observer);
    const noonDeg = Math.max(...Array.from({ length: 1440 }, (_, i) => track(startMs + i * 60_000).altitudeDeg));
    const northward = (slopeDeg: number) =>
      facedIntervals(track, startMs, startMs + DAY_MS, { facingAzimuthDeg: 0, slopeDeg });
    expect(northward(noonDeg - 0.01).length).toBe(1);
    expect(northward(noonDeg + 0.01).length).toBe(2);
  });
});
