import { altitudeExtremes, lowerTransits, upperTransits } from "@fieldstop/core/almanac";
import { moonTrack, sunTrack } from "@fieldstop/core/sky";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const MINUTE_MS = 60_000;
const DAY_MS = 1440 * MINUTE_MS;
const start = fc.integer({ min: Date.UTC(1900, 0, 1), max: Date.UTC(2100, 11, 30) });
const longitude = fc.double({ min: -180, max: 180, noNaN: true });

describe("altitudeExtremes", () => {
  it("cuts a span into pieces on which the body only rises or only falls", () => {
    fc.assert(
      fc.property(
        start,
        fc.double({ min: -90, max: 90, noNaN: true }),
        longitude,
        fc.constantFrom(sunTrack, moonTrack),
        (ms, latitude, lon, trackOf) => {
          const track = trackOf(ms, ms + DAY_MS, { latitude, longitude: lon });
          const altitude = (at: number): number => track(at).trueAltitudeDeg;
          const cuts = [ms, ...altitudeExtremes(track, ms, ms + DAY_MS).map(({ instantMs }) => instantMs), ms + DAY_MS];
          for (let i = 1; i < cuts.length; i++) {
            const a = cuts[i - 1] as number;
            const b = cuts[i] as number;
            const sign = Math.sign(altitude(b) - altitude(a));
            for (let k = 1; k <= 40; k++) {
              const step = altitude(a + ((b - a) * k) / 40) - altitude(a + ((b - a) * (k - 1)) / 40);
              // near the poles a bend may hide between two samples an hour apart: it is flat to a thousandth of a degree
              expect(sign * step).toBeGreaterThan(-0.002);
            }
          }
        },
      ),
    );
  });

  it("has a highest and a lowest point of the sun each day away from the poles, in turn", () => {
    fc.assert(
      fc.property(start, fc.double({ min: -85, max: 85, noNaN: true }), longitude, (ms, latitude, lon) => {
        const track = sunTrack(ms, ms + 3 * DAY_MS, { latitude, longitude: lon });
        const kinds = altitudeExtremes(track, ms, ms + 3 * DAY_MS).map(({ kind }) => kind);
        expect(kinds.length).toBeGreaterThanOrEqual(5);
        expect(kinds.length).toBeLessThanOrEqual(7);
        for (let i = 1; i < kinds.length; i++) expect(kinds[i]).not.toBe(kinds[i - 1]);
      }),
    );
  });

  it("finds no turn at a pole, where the sun's altitude follows the season", () => {
    const ms = Date.UTC(2027, 3, 10);
    expect(altitudeExtremes(sunTrack(ms, ms + DAY_MS, { latitude: 90, longitude: 0 }), ms, ms + DAY_MS)).toEqual([]);
  });
});

describe("transits", () => {
  it("are where the azimuth passes through the meridian, twelve hours apart", () => {
    fc.assert(
      fc.property(start, fc.double({ min: -89.9, max: 89.9, noNaN: true }), longitude, (ms, latitude, lon) => {
        const track = sunTrack(ms, ms + DAY_MS, { latitude, longitude: lon });
        const upper = upperTransits(track, ms, ms + DAY_MS);
        const lower = lowerTransits(track, ms, ms + DAY_MS);
        for (const instant of [...upper, ...lower]) {
          const azimuth = track(instant).azimuthDeg;
          const fromMeridian = Math.min(azimuth % 180, 180 - (azimuth % 180));
          const fromZenith = 90 - Math.abs(track(instant).trueAltitudeDeg);
          expect(fromMeridian * Math.sin((fromZenith * Math.PI) / 180)).toBeLessThan(0.0001);
        }
        // a solar day is within half a minute of 24 hours
        expect(upper.length).toBeLessThanOrEqual(2);
        expect(lower.length).toBeLessThanOrEqual(2);
        for (const noon of upper) {
          for (const midnight of lower) {
            expect(Math.abs(Math.abs(noon - midnight) - DAY_MS / 2)).toBeLessThan(MINUTE_MS);
          }
        }
        expect(upper.length + lower.length).toBeGreaterThanOrEqual(1);
      }),
    );
  });

  it("stand higher above than below the pole", () => {
    const ms = Date.UTC(2027, 6, 1);
    const track = moonTrack(ms, ms + 2 * DAY_MS, { latitude: -56.6, longitude: 30 });
    const [upper] = upperTransits(track, ms, ms + 2 * DAY_MS);
    const [lower] = lowerTransits(track, ms, ms + 2 * DAY_MS);
    expect(track(upper as number).trueAltitudeDeg).toBeGreaterThan(track(lower as number).trueAltitudeDeg + 30);
  });

  it("come once a day in a row of days, none lost and none doubled at midnight", () => {
    const first = Date.UTC(2026, 0, 1);
    const days = 400;
    // a longitude at which solar noon crosses midnight of Universal Time with the equation of time
    const observer = { latitude: 20, longitude: 179.9 };
    const found = Array.from({ length: days }, (_, day) => {
      const ms = first + day * DAY_MS;
      return upperTransits(sunTrack(ms, ms + DAY_MS, observer), ms, ms + DAY_MS);
    }).flat();
    expect(found.length).toBeGreaterThanOrEqual(days - 1);
    expect(found.length).toBeLessThanOrEqual(days + 1);
    for (let i = 1; i < found.length; i++) {
      expect(Math.abs((found[i] as number) - (found[i - 1] as number) - DAY_MS)).toBeLessThan(40_000);
    }
  });
});
