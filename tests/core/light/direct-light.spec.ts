import { dayEvents, dipDeg } from "@fieldstop/core/almanac";
import { type DirectLight, directLight } from "@fieldstop/core/light";
import { sunTrack } from "@fieldstop/core/sky";
import { describe, expect, it } from "vitest";
import { seeded } from "../../accuracy/errors";
import { foundEdges, hardDays, isLit, type LimbScan, limbScan, SHAPES, scanEdges } from "./limb-scan";

const DAY_MS = 86_400_000;
const ARDVANE = { latitude: 56.6, longitude: -9.4 };
const flat = (altitudeDeg: number) => ({ azimuthsDeg: [0, 180], altitudesDeg: [altitudeDeg, altitudeDeg] });

/** What of one list of stretches lies in none of another [ms]. */
function excessMs(inner: DirectLight, outer: DirectLight): number {
  return inner.intervals.reduce((sum, { startMs, endMs }) => {
    const covered = outer.intervals.reduce(
      (ms, other) => ms + Math.max(0, Math.min(endMs, other.endMs) - Math.max(startMs, other.startMs)),
      0,
    );
    return sum + endMs - startMs - covered;
  }, 0);
}

const lengthMs = ({ intervals }: DirectLight): number =>
  intervals.reduce((sum, { startMs, endMs }) => sum + endMs - startMs, 0);

const days = hardDays(seeded(7), 45).map(({ label, request }) => ({
  label,
  request,
  light: directLight(request),
  scan: limbScan(request, 1000),
}));

describe("directLight against a scan in 1 s steps", () => {
  it("has hard days: every shape with many edges, lit and unlit, faced and not", () => {
    for (const shape of SHAPES) {
      const edges = days.filter(({ label }) => label.startsWith(shape)).flatMap(({ scan }) => scanEdges(scan));
      expect(edges.length, shape).toBeGreaterThan(8);
    }
    const causes = days.flatMap(({ light }) => light.intervals.flatMap((lit) => [lit.startCause, lit.endCause]));
    expect(new Set(causes)).toEqual(new Set(["terrain", "horizon", "facing", "day-boundary"]));
  });

  it.each(days)("finds every edge and no other: $label", ({ request, light, scan }) => {
    const expected = scanEdges(scan);
    const found = foundEdges(light, request, 1000);
    expect(found.map(({ direction }) => direction)).toEqual(expected.map(({ direction }) => direction));
    // between the last sample on one side and the first on the other, but for the tolerance of the roots
    found.forEach(({ ms }, i) => {
      expect(Math.abs(ms + 500 - (expected[i]?.atMs as number))).toBeLessThanOrEqual(525);
    });
  });

  it("gives intervals in order, apart, inside the span, with azimuths of the sun", () => {
    for (const { request, light } of days) {
      let before = request.startMs - 1;
      for (const { startMs, endMs, startAzimuthDeg, endAzimuthDeg } of light.intervals) {
        expect(startMs).toBeGreaterThan(before);
        expect(endMs).toBeGreaterThan(startMs);
        expect(endMs).toBeLessThanOrEqual(request.endMs);
        expect(startAzimuthDeg).toBe(request.track(startMs).azimuthDeg);
        expect(endAzimuthDeg).toBe(request.track(endMs).azimuthDeg);
        before = endMs;
      }
    }
  });

  it("names what makes each edge", () => {
    let checked = 0;
    for (const { request, light } of days) {
      for (const { startMs, endMs, startCause, endCause } of light.intervals) {
        for (const [ms, cause] of [
          [startMs, startCause],
          [endMs, endCause],
        ] as const) {
          checked++;
          if (ms === request.startMs || ms === request.endMs) {
            expect(cause).toBe("day-boundary");
            continue;
          }
          const { upperDeg, almanacDeg, cosine } = limbScan({ ...request, startMs: ms, endMs: ms }, 1000);
          // the limb is on the skyline, so that it stands as far above the almanac's horizon as the skyline does
          const onSkyline = Math.abs(upperDeg[0] as number) < 3e-4;
          const onEdgeOfSurface = Math.abs(cosine[0] as number) < 3e-6;
          expect(onSkyline || onEdgeOfSurface).toBe(true);
          if (onSkyline && onEdgeOfSurface) continue;
          const above = almanacDeg[0] as number;
          if (Math.abs(above - 0.05) < 1e-3) continue;
          expect(cause).toBe(onEdgeOfSurface ? "facing" : above > 0.05 ? "terrain" : "horizon");
        }
      }
    }
    expect(checked).toBeGreaterThan(300);
  });

  it("shows the whole disc from the first to the last instant at which the lower limb is clear, inside the interval", () => {
    let whole = 0;
    let glimpses = 0;
    for (const { request, light, scan } of days) {
      for (const { startMs, endMs, fullDisc } of light.intervals) {
        const clear = lowerClear(scan, startMs, endMs, request.startMs);
        if (fullDisc === null) {
          expect(clear).toEqual([]);
          continue;
        }
        whole++;
        expect(fullDisc.startMs).toBeGreaterThanOrEqual(startMs);
        expect(fullDisc.endMs).toBeLessThanOrEqual(endMs);
        expect(fullDisc.endMs).toBeGreaterThan(fullDisc.startMs);
        for (const [found, seen] of [
          [fullDisc.startMs, clear[0]],
          [fullDisc.endMs, clear.at(-1)],
        ] as const) {
          if (seen !== undefined && Math.abs(found - seen) <= 1025) continue;
          // a glimpse shorter than a step, which only a finer scan sees
          const fine = limbScan({ ...request, startMs: found - 100, endMs: found + 100 }, 10);
          expect(fine.lowerDeg.some((deg) => deg > 0)).toBe(true);
          expect(fine.lowerDeg.some((deg) => deg <= 0)).toBe(true);
          glimpses++;
        }
      }
    }
    expect(whole).toBeGreaterThan(100);
    expect(glimpses).toBeLessThan(10);
  });

  it("counts the minutes that terrain takes from what the almanac's horizon would give", () => {
    for (const { label, light, scan } of days) {
      let lost = 0;
      for (let i = 0; i < scan.timesMs.length; i++) {
        if ((scan.almanacDeg[i] as number) > 0 && (scan.cosine[i] as number) > 0 && !isLit(scan, i)) lost++;
      }
      const edges = scanEdges(scan).length + 4;
      expect(Math.abs(light.minutesLostToTerrain - lost / 60), label).toBeLessThan(edges / 60);
    }
  });
});

/** The samples of an interval at which the lower limb is clear too [Unix ms]. */
function lowerClear(scan: LimbScan, startMs: number, endMs: number, originMs: number): number[] {
  const clear: number[] = [];
  for (let i = Math.ceil((startMs - originMs) / 1000); originMs + i * 1000 <= endMs; i++) {
    if ((scan.lowerDeg[i] as number) > 0) clear.push(originMs + i * 1000);
  }
  return clear;
}

describe("directLight", () => {
  it("gives no more light where a skyline is raised", () => {
    const random = seeded(11);
    for (const { request, light } of days) {
      const { azimuthsDeg, altitudesDeg } = request.profile;
      const raised = altitudesDeg.map((altitude) => Math.min(90, altitude + (random() < 0.5 ? 0 : 0.3 * random())));
      const less = directLight({ ...request, profile: { azimuthsDeg, altitudesDeg: raised } });
      expect(excessMs(less, light)).toBeLessThanOrEqual(50 * (1 + less.intervals.length));
      expect(less.minutesLostToTerrain).toBeGreaterThanOrEqual(light.minutesLostToTerrain - 0.01);
    }
  });

  it("has the almanac's sunrise and sunset over a level horizon that dips, to a quarter of a second", () => {
    const random = seeded(12);
    let compared = 0;
    for (let i = 0; i < 60; i++) {
      const observer = { latitude: 130 * random() - 65, longitude: 360 * random() - 180 };
      const startMs = Date.UTC(1901, 0, 1) + Math.floor(random() * 199 * 365) * DAY_MS;
      const endMs = startMs + DAY_MS;
      const eyeHeightM = 100 * random();
      const almanacAltitudeDeg = -dipDeg(eyeHeightM);
      const request = { track: sunTrack(startMs, endMs, observer), startMs, endMs, almanacAltitudeDeg };
      const light = directLight({ ...request, profile: flat(almanacAltitudeDeg) });
      const events = dayEvents(startMs, endMs, observer, eyeHeightM).events.filter(
        ({ name }) => name === "sunrise" || name === "sunset",
      );
      const found = foundEdges(light, { ...request, profile: flat(0) }, 1000);
      expect(found.map(({ direction }) => (direction === "rising" ? "sunrise" : "sunset"))).toEqual(
        events.map(({ name }) => name),
      );
      found.forEach(({ ms }, k) => {
        expect(Math.abs(ms - (events[k]?.instantMs as number))).toBeLessThan(250);
        compared++;
      });
      expect(light.minutesLostToTerrain).toBe(0);
    }
    expect(compared).toBeGreaterThan(100);
  });

  it("loses to a wall all round what the level horizon has more", () => {
    const startMs = Date.UTC(2027, 2, 20);
    const endMs = startMs + DAY_MS;
    const span = { track: sunTrack(startMs, endMs, ARDVANE), startMs, endMs, almanacAltitudeDeg: 0 };
    const open = directLight({ ...span, profile: flat(0) });
    for (const wall of [1, 5, 20, 33, 34, 60]) {
      const light = directLight({ ...span, profile: flat(wall) });
      const lostMinutes = (lengthMs(open) - lengthMs(light)) / 60_000;
      expect(light.minutesLostToTerrain).toBeCloseTo(lostMinutes, 3);
    }
  });

  it("knows polar day and night, behind a ridge too", () => {
    const north = { latitude: 78, longitude: 15 };
    const on = (month: number, altitudeDeg: number): DirectLight => {
      const startMs = Date.UTC(2027, month, 21);
      const endMs = startMs + DAY_MS;
      const track = sunTrack(startMs, endMs, north);
      return directLight({ track, startMs, endMs, almanacAltitudeDeg: 0, profile: flat(altitudeDeg) });
    };
    const [day] = on(5, 0).intervals;
    expect(day).toMatchObject({ startCause: "day-boundary", endCause: "day-boundary" });
    expect((day?.endMs as number) - (day?.startMs as number)).toBe(DAY_MS);
    expect(day?.fullDisc).toEqual({ startMs: day?.startMs, endMs: day?.endMs });
    expect(on(11, 0)).toEqual({ intervals: [], minutesLostToTerrain: 0 });
    // the sun goes round between 11.4 and 35.4 degrees
    expect(on(5, 11).intervals).toHaveLength(1);
    expect(on(5, 20).intervals).toMatchObject([{ startCause: "terrain", endCause: "terrain" }]);
    expect(on(5, 36)).toEqual({ intervals: [], minutesLostToTerrain: 1440 });
  });

  it("gives a span of many days what its days have, joined", () => {
    const azimuthsDeg = Array.from({ length: 1440 }, (_, i) => i / 4);
    const random = seeded(13);
    const profile = { azimuthsDeg, altitudesDeg: azimuthsDeg.map((azimuth) => 3 + Math.sin(azimuth / 9) + random()) };
    const startMs = Date.UTC(2027, 2, 10);
    const endMs = startMs + 20 * DAY_MS;
    const whole = directLight({
      track: sunTrack(startMs, endMs, ARDVANE),
      startMs,
      endMs,
      profile,
      almanacAltitudeDeg: 0,
    });
    const single = Array.from({ length: 20 }, (_, i) => {
      const a = startMs + i * DAY_MS;
      const track = sunTrack(a, a + DAY_MS, ARDVANE);
      return directLight({ track, startMs: a, endMs: a + DAY_MS, profile, almanacAltitudeDeg: 0 });
    });
    const edges = single.flatMap(({ intervals }) => intervals.flatMap((lit) => [lit.startMs, lit.endMs]));
    const together = whole.intervals.flatMap((lit) => [lit.startMs, lit.endMs]);
    expect(together).toHaveLength(edges.length);
    expect(edges.length).toBeGreaterThan(60);
    together.forEach((ms, i) => {
      expect(Math.abs(ms - (edges[i] as number))).toBeLessThan(40);
    });
    const lost = single.reduce((sum, { minutesLostToTerrain }) => sum + minutesLostToTerrain, 0);
    expect(whole.minutesLostToTerrain).toBeCloseTo(lost, 2);
  });
});
