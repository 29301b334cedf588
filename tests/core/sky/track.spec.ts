import { DomainError } from "@fieldstop/core";
import { moonPosition, moonTrack, sunPosition, sunTrack } from "@fieldstop/core/sky";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { separationDeg } from "../../../packages/core/src/angles";

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;
const start = fc.integer({ min: Date.UTC(1900, 0, 1), max: Date.UTC(2100, 0, 1) });
const latitude = fc.double({ min: -90, max: 90, noNaN: true });
const longitude = fc.double({ min: -180, max: 180, noNaN: true });

describe.each([
  ["sunTrack", sunTrack, sunPosition, 1e-6],
  ["moonTrack", moonTrack, moonPosition, 1e-5],
] as const)("%s", (_, trackOf, positionAt, tolerance) => {
  it("agrees with single positions over a day and some hours on either side", () => {
    fc.assert(
      fc.property(start, latitude, longitude, fc.double({ min: -6, max: 30, noNaN: true }), (ms, lat, lon, hours) => {
        const observer = { latitude: lat, longitude: lon, elevationM: 300 };
        const air = { pressureHPa: 980, temperatureC: -5 };
        const instant = ms + hours * HOUR_MS;
        const a = trackOf(ms, ms + DAY_MS, observer, air)(instant);
        const b = positionAt(instant, observer, air);
        expect(separationDeg(a.azimuthDeg, a.trueAltitudeDeg, b.azimuthDeg, b.trueAltitudeDeg)).toBeLessThan(tolerance);
        expect(Math.abs(a.altitudeDeg - b.altitudeDeg)).toBeLessThan(2 * tolerance);
      }),
    );
  });

  it("agrees over years too, and in whatever order it is asked", () => {
    const startMs = Date.UTC(2020, 0, 1);
    const endMs = Date.UTC(2030, 0, 1);
    const observer = { latitude: 56.6, longitude: -9.4 };
    const track = trackOf(startMs, endMs, observer);
    const instants = Array.from({ length: 400 }, (_, i) => startMs + ((i * 7919) % 400) * ((endMs - startMs) / 400));
    for (const instant of instants) {
      const a = track(instant);
      const b = positionAt(instant, observer);
      expect(separationDeg(a.azimuthDeg, a.trueAltitudeDeg, b.azimuthDeg, b.trueAltitudeDeg)).toBeLessThan(tolerance);
    }
  });

  it("answers for a span of no length", () => {
    const ms = Date.UTC(2027, 2, 20);
    const observer = { latitude: 56.6, longitude: -9.4 };
    expect(trackOf(ms, ms, observer)(ms).azimuthDeg).toBeCloseTo(positionAt(ms, observer).azimuthDeg, 4);
  });

  it("refuses instants far from its span, spans that run backwards, and years out of range", () => {
    const ms = Date.UTC(2027, 2, 20);
    const observer = { latitude: 56.6, longitude: -9.4 };
    const track = trackOf(ms, ms + DAY_MS, observer);
    expect(() => track(ms + 30 * DAY_MS)).toThrow(expect.objectContaining({ param: "instantMs" }));
    expect(() => track(Number.NaN)).toThrow(DomainError);
    expect(() => trackOf(ms, ms - 1, observer)).toThrow(expect.objectContaining({ param: "endMs" }));
    expect(() => trackOf(Date.UTC(1800, 0, 1), ms, observer)).toThrow(expect.objectContaining({ param: "startMs" }));
  });
});

describe("moonTrack", () => {
  it("knows distance and disc as single positions do", () => {
    const ms = Date.UTC(2027, 2, 20);
    const observer = { latitude: 56.6, longitude: -9.4 };
    const track = moonTrack(ms, ms + DAY_MS, observer);
    for (let hour = 0; hour <= 24; hour += 0.5) {
      const a = track(ms + hour * HOUR_MS);
      const b = moonPosition(ms + hour * HOUR_MS, observer);
      expect(a.distanceKm).toBeCloseTo(b.distanceKm, 1);
      expect(a.semidiameterDeg).toBeCloseTo(b.semidiameterDeg, 7);
    }
  });
});
