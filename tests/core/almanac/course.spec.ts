import { findAltitudeCrossings } from "@fieldstop/core/almanac";
import { moonTrack, sunTrack } from "@fieldstop/core/sky";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { skyCourse } from "../../../packages/core/src/almanac/course";
import { sinDeg } from "../../../packages/core/src/angles";

const HOUR_MS = 3_600_000;
const start = fc.integer({ min: Date.UTC(1900, 0, 1), max: Date.UTC(2100, 11, 20) });
const latitude = fc.double({ min: -90, max: 90, noNaN: true });
const longitude = fc.double({ min: -180, max: 180, noNaN: true });
const trackOf = fc.constantFrom(sunTrack, moonTrack);
// from a few minutes to three days
const hours = fc.double({ min: 0.1, max: 72, noNaN: true });
const altitude = fc.double({ min: -60, max: 60, noNaN: true });

describe("skyCourse", () => {
  it("finds the passings that a search in degrees over whole pieces finds", () => {
    fc.assert(
      fc.property(
        start,
        hours,
        latitude,
        longitude,
        trackOf,
        altitude,
        (startMs, span, lat, lon, track, altitudeDeg) => {
          const endMs = startMs + span * HOUR_MS;
          const body = track(startMs, endMs, { latitude: lat, longitude: lon });
          const course = skyCourse(body, startMs, endMs);
          // at a turn, to a millionth of a degree, either answer will do
          const grazes = course.cuts.some((ms) => Math.abs(body(ms).trueAltitudeDeg - altitudeDeg) < 1e-6);
          fc.pre(!grazes);
          const plain = findAltitudeCrossings(body, startMs, endMs, altitudeDeg);
          const found = course.crossings(altitudeDeg);
          expect(found.kind).toBe(plain.kind);
          if (found.kind !== "crosses" || plain.kind !== "crosses") return;
          expect(found.crossings.map(({ direction }) => direction)).toEqual(
            plain.crossings.map(({ direction }) => direction),
          );
          for (const [i, { instantMs }] of found.crossings.entries()) {
            expect(Math.abs(body(instantMs).trueAltitudeDeg - altitudeDeg)).toBeLessThan(1e-5);
            const [one, other] = [instantMs, plain.crossings[i]?.instantMs as number].map(body);
            expect(Math.abs((one?.trueAltitudeDeg as number) - (other?.trueAltitudeDeg as number))).toBeLessThan(1e-5);
          }
        },
      ),
      { numRuns: 2000 },
    );
  });

  it("holds a body between two altitudes in just the stretches it gives", () => {
    fc.assert(
      fc.property(start, latitude, longitude, trackOf, altitude, altitude, (startMs, lat, lon, track, one, other) => {
        const [low, high] = one < other ? [one, other] : [other, one];
        const endMs = startMs + 24 * HOUR_MS;
        const body = track(startMs, endMs, { latitude: lat, longitude: lon });
        const { between, cuts } = skyCourse(body, startMs, endMs);
        const stretches = between(low, high);
        expect(stretches).toHaveLength(cuts.length - 1);
        for (let ms = startMs + 1; ms < endMs; ms += HOUR_MS / 3) {
          const { trueAltitudeDeg } = body(ms);
          if (Math.min(Math.abs(trueAltitudeDeg - low), Math.abs(trueAltitudeDeg - high)) < 0.002) continue;
          const inside = stretches.some((stretch) => stretch !== undefined && ms >= stretch[0] && ms <= stretch[1]);
          expect(inside).toBe(trueAltitudeDeg > low && trueAltitudeDeg < high);
        }
      }),
      { numRuns: 300 },
    );
  });

  it("seeks a shared altitude once", () => {
    const startMs = Date.UTC(2027, 2, 20);
    const body = sunTrack(startMs, startMs + 24 * HOUR_MS, { latitude: 56.6, longitude: -9.4 });
    let asked = 0;
    const sine = body.altitudeSine as (ms: number) => number;
    const counted = Object.assign((ms: number) => body(ms), {
      altitudeSine: (ms: number) => {
        asked++;
        return sine(ms);
      },
    });
    const course = skyCourse(counted, startMs, startMs + 24 * HOUR_MS);
    const first = course.crossings(-6);
    const before = asked;
    expect(course.crossings(-6)).toEqual(first);
    course.between(-6, -6.0001);
    expect(asked - before).toBeLessThanOrEqual(8);
  });
});

describe("the sine of the altitude that a track tells", () => {
  it("is that of its positions", () => {
    fc.assert(
      fc.property(start, latitude, longitude, trackOf, hours, (startMs, lat, lon, track, span) => {
        const body = track(startMs, startMs + 72 * HOUR_MS, { latitude: lat, longitude: lon, elevationM: 1200 });
        const ms = startMs + span * HOUR_MS;
        expect(body.altitudeSine?.(ms)).toBeCloseTo(sinDeg(body(ms).trueAltitudeDeg), 12);
      }),
    );
  });
});
