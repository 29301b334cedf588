import { DomainError } from "@fieldstop/core";
import { findAltitudeCrossings, sunriseAltitudeDeg } from "@fieldstop/core/almanac";
import { type Observer, sunPosition, sunTrack } from "@fieldstop/core/sky";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const DAY_MS = 86_400_000;
const start = fc.integer({ min: Date.UTC(1900, 0, 1), max: Date.UTC(2100, 11, 30) });
const latitude = fc.double({ min: -90, max: 90, noNaN: true });
const longitude = fc.double({ min: -180, max: 180, noNaN: true });

describe("@examples", () => {
  it("sunriseAltitudeDeg(0)", () => expect(sunriseAltitudeDeg(0)).toBeCloseTo(-0.8333, 4));
});

describe("findAltitudeCrossings", () => {
  it("finds instants at which the sun, computed anew, stands at the altitude, and on the right side of it before and after", () => {
    fc.assert(
      fc.property(
        start,
        latitude,
        longitude,
        fc.double({ min: -30, max: 30, noNaN: true }),
        (ms, lat, lon, altitude) => {
          const observer: Observer = { latitude: lat, longitude: lon };
          const track = sunTrack(ms, ms + DAY_MS, observer);
          const found = findAltitudeCrossings(track, ms, ms + DAY_MS, altitude);
          const sun = (at: number): number => sunPosition(at, observer).trueAltitudeDeg;
          const crossings = found.kind === "crosses" ? found.crossings : [];
          for (const { instantMs } of crossings) expect(Math.abs(sun(instantMs) - altitude)).toBeLessThan(0.0002);
          // between two crossings the sun stays on one side
          const cuts = [ms, ...crossings.map(({ instantMs }) => instantMs), ms + DAY_MS];
          let above = found.kind === "crosses" ? crossings[0]?.direction === "falling" : found.kind === "always-above";
          for (let i = 1; i < cuts.length; i++) {
            const a = cuts[i - 1] as number;
            const b = cuts[i] as number;
            for (let k = 1; k < 12; k++) {
              const side = sun(a + ((b - a) * k) / 12) - altitude;
              expect(above ? side : -side).toBeGreaterThan(-0.001);
            }
            above = !above;
          }
        },
      ),
      { numRuns: 300 },
    );
  });

  it("tells rising from falling, in turn", () => {
    const ms = Date.UTC(2027, 2, 20);
    const track = sunTrack(ms, ms + 2 * DAY_MS, { latitude: 56.6, longitude: -9.4 });
    const found = findAltitudeCrossings(track, ms, ms + 2 * DAY_MS, 0);
    expect(found.kind === "crosses" && found.crossings.map(({ direction }) => direction)).toEqual([
      "rising",
      "falling",
      "rising",
      "falling",
    ]);
  });

  it("knows a sun that only just rises, and one that only just does not", () => {
    const ms = Date.UTC(2027, 11, 21);
    const observer = { latitude: 67, longitude: 0 };
    const track = sunTrack(ms, ms + DAY_MS, observer);
    let top = -90;
    for (let at = ms + 11 * 3_600_000; at < ms + 13 * 3_600_000; at += 10_000) {
      top = Math.max(top, track(at).trueAltitudeDeg);
    }
    const under = findAltitudeCrossings(track, ms, ms + DAY_MS, top - 0.0001);
    expect(under.kind === "crosses" && under.crossings).toHaveLength(2);
    expect(findAltitudeCrossings(track, ms, ms + DAY_MS, top + 0.0001)).toEqual({ kind: "always-below" });
  });

  it("says always above and always below for polar day and night", () => {
    const at = (ms: number, lat: number) =>
      findAltitudeCrossings(sunTrack(ms, ms + DAY_MS, { latitude: lat, longitude: 0 }), ms, ms + DAY_MS, -0.8333).kind;
    expect(at(Date.UTC(2027, 5, 21), 78)).toBe("always-above");
    expect(at(Date.UTC(2027, 11, 21), 78)).toBe("always-below");
    expect(at(Date.UTC(2027, 11, 21), 90)).toBe("always-below");
  });

  it("takes an altitude that changes with the instant", () => {
    const ms = Date.UTC(2027, 2, 20);
    const track = sunTrack(ms, ms + DAY_MS, { latitude: 56.6, longitude: -9.4 });
    const fixed = findAltitudeCrossings(track, ms, ms + DAY_MS, 5);
    expect(findAltitudeCrossings(track, ms, ms + DAY_MS, () => 5)).toEqual(fixed);
  });

  it("refuses an altitude that is none", () => {
    const ms = Date.UTC(2027, 2, 20);
    const track = sunTrack(ms, ms + DAY_MS, { latitude: 0, longitude: 0 });
    for (const altitude of [91, Number.NaN]) {
      expect(() => findAltitudeCrossings(track, ms, ms + DAY_MS, altitude)).toThrow(DomainError);
    }
  });
});
