import { dayEvents } from "@fieldstop/core/almanac";
import type { HorizonProfile } from "@fieldstop/core/horizon";
import { type DirectLightRequest, directLight, limbAltitudeDeg } from "@fieldstop/core/light";
import { type Observer, type SkyPosition, sunPosition, sunTrack } from "@fieldstop/core/sky";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { interpolateRoundCompass } from "../../../packages/core/src/interpolation";
import { seeded, skylines } from "./random-skylines";

const DAY_MS = 86_400_000;
const level = (altitudeDeg: number): HorizonProfile => ({
  azimuthsDeg: [0, 180],
  altitudesDeg: [altitudeDeg, altitudeDeg],
});

function ask(startMs: number, observer: Observer, profile: HorizonProfile, more: Partial<DirectLightRequest> = {}) {
  const endMs = more.endMs ?? startMs + DAY_MS;
  const track = sunTrack(startMs, endMs, observer);
  return directLight({ track, startMs, endMs, profile, almanacAltitudeDeg: -0.04, ...more });
}

const clears =
  ({ azimuthsDeg, altitudesDeg }: HorizonProfile) =>
  (sun: SkyPosition): boolean =>
    limbAltitudeDeg(sun, "upper") > interpolateRoundCompass(azimuthsDeg, altitudesDeg, sun.azimuthDeg);

/** The edges within the day, without the pairs less than a second apart that a scan in steps of a second cannot see. */
function edgesOf(
  intervals: readonly { readonly startMs: number; readonly endMs: number }[],
  startMs: number,
): number[] {
  const edges: number[] = [];
  const second = (ms: number): number => Math.floor((ms - startMs) / 1000);
  for (const edge of intervals.flatMap((interval) => [interval.startMs, interval.endMs])) {
    if (edge <= startMs || edge >= startMs + DAY_MS) continue;
    const before = edges.at(-1);
    if (before !== undefined && second(before) === second(edge)) edges.pop();
    else edges.push(edge);
  }
  return edges;
}

describe("@examples", () => {
  it("gives the minutes that a ridge in the west takes", () => {
    const [startMs, endMs] = [Date.UTC(2027, 2, 20), Date.UTC(2027, 2, 21)];
    const track = sunTrack(startMs, endMs, { latitude: 56.6, longitude: -9.4 });
    const profile = { azimuthsDeg: [0, 200, 220, 320, 340], altitudesDeg: [0, 0, 6, 6, 0] };
    const light = directLight({ track, startMs, endMs, profile, almanacAltitudeDeg: 0 });
    expect(light.minutesLostToTerrain).toBeCloseTo(46.9, 1);
    expect(light.intervals).toMatchObject([{ startCause: "horizon", endCause: "terrain" }]);
  });
});

describe("passes of the limb, against each second's own position with no track", () => {
  it("at the poles, at both ends of the years, and on the leap day", () => {
    const profile = skylines["rough ridges each 0.25°"](seeded(3));
    const days: [number, number][] = [
      [90, Date.UTC(2027, 2, 28)],
      [-90, Date.UTC(2027, 2, 10)],
      [56.6, Date.UTC(1900, 0, 1)],
      [-33, Date.UTC(2100, 11, 30)],
      [56.6, Date.UTC(2028, 1, 29)],
      [0, Date.UTC(2027, 2, 20)],
      [23.44, Date.UTC(2027, 5, 21)],
    ];
    for (const [latitude, startMs] of days) {
      const observer = { latitude, longitude: -9.4 };
      const seen = clears(profile);
      const scanned: number[] = [];
      let before = seen(sunPosition(startMs, observer));
      for (let second = 1; second <= 86_400; second++) {
        const now = seen(sunPosition(startMs + second * 1000, observer));
        if (now !== before) scanned.push(startMs + second * 1000);
        before = now;
      }
      const found = edgesOf(ask(startMs, observer, profile).intervals, startMs);
      expect(scanned.length).toBeGreaterThan(1);
      expect(found).toHaveLength(scanned.length);
      for (const [i, end] of scanned.entries()) {
        expect(found[i]).toBeGreaterThan(end - 1050);
        expect(found[i]).toBeLessThan(end + 50);
      }
    }
  });
});

describe("what is easily missed", () => {
  const startMs = Date.UTC(2027, 3, 10);
  const observer = { latitude: 56.6, longitude: -9.4 };
  const noonMs = dayEvents(startMs, startMs + DAY_MS, observer).events.find(({ name }) => name === "solar-noon")
    ?.instantMs as number;

  it("a notch that the sun crosses in seconds", () => {
    const eveningMs = noonMs + 5 * 3_600_000;
    const { azimuthDeg, altitudeDeg } = sunPosition(eveningMs, observer);
    expect(altitudeDeg).toBeGreaterThan(5);
    // a gap of 0.02° between two walls, cut down to the sea
    const profile = {
      azimuthsDeg: [0, azimuthDeg - 0.0101, azimuthDeg - 0.01, azimuthDeg + 0.01, azimuthDeg + 0.0101],
      altitudesDeg: [89, 89, 0, 0, 89],
    };
    const [gap, ...more] = ask(startMs, observer, profile).intervals;
    expect(more).toEqual([]);
    const azimuthAt = (ms: number): number => sunPosition(ms, observer).azimuthDeg;
    const halfSeconds = 0.01 / (azimuthAt(eveningMs + 500) - azimuthAt(eveningMs - 500));
    expect(halfSeconds).toBeLessThan(4);
    expect(((gap?.startMs as number) - eveningMs) / 1000).toBeCloseTo(-halfSeconds, 1);
    expect(((gap?.endMs as number) - eveningMs) / 1000).toBeCloseTo(halfSeconds, 1);
  });

  it.each([
    [-0.0005, 1],
    [0.0005, 0],
  ])("a level rim %f° from where the sun stands at noon", (offsetDeg, count) => {
    const aroundNoon = Array.from({ length: 1200 }, (_, i) => sunPosition(noonMs + (i - 600) * 100, observer));
    const topDeg = Math.max(...aroundNoon.map((sun) => limbAltitudeDeg(sun, "upper")));
    const { intervals } = ask(startMs, observer, level(topDeg + offsetDeg));
    expect(intervals).toHaveLength(count);
    for (const interval of intervals) expect(interval.endMs - interval.startMs).toBeLessThan(180_000);
  });

  it("a sun that at midnight just does not set, and just does", () => {
    const north = { latitude: 66, longitude: 20 };
    const june = Date.UTC(2027, 5, 21, 12);
    const allNight = Array.from({ length: 86_400 / 5 }, (_, i) => sunPosition(june + i * 5000, north));
    const lowestDeg = Math.min(...allNight.map((sun) => limbAltitudeDeg(sun, "upper")));
    expect(ask(june, north, level(lowestDeg - 0.0005)).intervals).toHaveLength(1);
    expect(ask(june, north, level(lowestDeg + 0.0005)).intervals).toHaveLength(2);
  });

  it("a mast whose top alone the limb passes behind", () => {
    const morningMs = noonMs - 4 * 3_600_000;
    const sun = sunPosition(morningMs, observer);
    const { azimuthDeg } = sun;
    const profile = {
      azimuthsDeg: [0, azimuthDeg - 0.005, azimuthDeg, azimuthDeg + 0.005],
      altitudesDeg: [0, 0, limbAltitudeDeg(sun, "upper") + 0.05, 0],
    };
    const [before, after, ...more] = ask(startMs, observer, profile).intervals;
    expect(more).toEqual([]);
    const darkMs = (after?.startMs as number) - (before?.endMs as number);
    expect(darkMs).toBeGreaterThan(0);
    expect(darkMs).toBeLessThan(1000);
    expect(Math.abs((before?.endMs as number) - morningMs)).toBeLessThan(1000);
  });
});

describe("what must always hold", () => {
  const cases = fc.record({
    kind: fc.constantFrom(...(Object.keys(skylines) as (keyof typeof skylines)[])),
    seed: fc.integer({ min: 1, max: 2 ** 31 - 2 }),
    latitude: fc.double({ min: -80, max: 80, noNaN: true }),
    longitude: fc.double({ min: -180, max: 180, noNaN: true }),
    startMs: fc.integer({ min: Date.UTC(1900, 0, 2), max: Date.UTC(2100, 11, 30) }),
  });
  const madeFrom = ({ kind, seed }: { kind: keyof typeof skylines; seed: number }): HorizonProfile =>
    skylines[kind](seeded(seed));

  it("stretches are in order, apart from each other, inside the span, and the whole disc inside them", () => {
    fc.assert(
      fc.property(cases, (day) => {
        const { intervals, minutesLostToTerrain } = ask(day.startMs, day, madeFrom(day));
        let before = day.startMs;
        for (const [i, { startMs, endMs, fullDisc }] of intervals.entries()) {
          if (i > 0) expect(startMs).toBeGreaterThan(before);
          expect(startMs).toBeGreaterThanOrEqual(day.startMs);
          expect(endMs).toBeGreaterThan(startMs);
          before = endMs;
          if (fullDisc === null) continue;
          expect(fullDisc.startMs).toBeGreaterThanOrEqual(startMs);
          expect(fullDisc.endMs).toBeGreaterThan(fullDisc.startMs);
          expect(fullDisc.endMs).toBeLessThanOrEqual(endMs);
        }
        expect(before).toBeLessThanOrEqual(day.startMs + DAY_MS);
        expect(minutesLostToTerrain).toBeGreaterThanOrEqual(0);
        expect(minutesLostToTerrain).toBeLessThanOrEqual(1440);
      }),
      { numRuns: 150, seed: 1 },
    );
  });

  it("a higher skyline never adds direct light, and never takes fewer minutes", () => {
    fc.assert(
      fc.property(cases, fc.double({ min: 0.001, max: 5, noNaN: true }), (day, raiseDeg) => {
        const profile = madeFrom(day);
        const random = seeded(day.seed);
        const altitudesDeg = profile.altitudesDeg.map((altitude) => altitude + raiseDeg * random());
        const low = ask(day.startMs, day, profile);
        const high = ask(day.startMs, day, { ...profile, altitudesDeg });
        for (const { startMs, endMs } of high.intervals) {
          // a stretch shorter than edges are sure to may fall either way
          if (endMs - startMs < 100) continue;
          expect(low.intervals.some((wide) => wide.startMs <= startMs + 50 && wide.endMs >= endMs - 50)).toBe(true);
        }
        expect(high.minutesLostToTerrain).toBeGreaterThan(low.minutesLostToTerrain - 0.01);
      }),
      { numRuns: 150, seed: 2 },
    );
  });

  it("at each edge the limb stands on the skyline", () => {
    let edges = 0;
    fc.assert(
      fc.property(cases, (day) => {
        const profile = madeFrom(day);
        const seen = clears(profile);
        for (const edge of edgesOf(ask(day.startMs, day, profile).intervals, day.startMs)) {
          edges++;
          expect(seen(sunPosition(edge - 60, day))).not.toBe(seen(sunPosition(edge + 60, day)));
        }
      }),
      { numRuns: 100, seed: 3 },
    );
    expect(edges).toBeGreaterThan(200);
  });

  it("two parts of a day make the day", () => {
    fc.assert(
      fc.property(cases, fc.integer({ min: 1, max: 1439 }), (day, minute) => {
        const profile = madeFrom(day);
        const lightMs = (from: number, to: number): number =>
          ask(from, day, profile, { endMs: to }).intervals.reduce(
            (sum, { startMs, endMs }) => sum + endMs - startMs,
            0,
          );
        const endMs = day.startMs + DAY_MS;
        const middle = day.startMs + minute * 60_000;
        const whole = lightMs(day.startMs, endMs);
        expect(Math.abs(lightMs(day.startMs, middle) + lightMs(middle, endMs) - whole)).toBeLessThan(500);
      }),
      { numRuns: 60, seed: 4 },
    );
  });
});

describe("work", () => {
  it("takes few looks at the sun, fewer than one in eight minutes, and twice as many for twice the days", () => {
    const looks = (days: number): number => {
      const profile = skylines["rough ridges each 0.25°"](seeded(9));
      const observer = { latitude: 56.6, longitude: -9.4 };
      let count = 0;
      for (let day = 0; day < days; day++) {
        const startMs = Date.UTC(2027, 2, 1 + day);
        const track = sunTrack(startMs, startMs + DAY_MS, observer);
        const counted = (ms: number): SkyPosition => {
          count++;
          return track(ms);
        };
        ask(startMs, observer, profile, { track: counted });
      }
      return count;
    };
    const month = looks(30);
    expect(month / 30).toBeLessThan(180);
    expect(looks(60) / month).toBeLessThan(2.3);
  });
});
