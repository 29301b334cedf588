import { DomainError } from "@fieldstop/core";
import { moonPosition, sunPosition } from "@fieldstop/core/sky";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { separationDeg } from "../../../packages/core/src/angles";

const instant = fc.integer({ min: Date.UTC(1900, 0, 1), max: Date.UTC(2100, 11, 31) });
const latitude = fc.oneof(fc.double({ min: -90, max: 90, noNaN: true }), fc.constantFrom(-90, 0, 90));
const longitude = fc.oneof(fc.double({ min: -180, max: 180, noNaN: true }), fc.constantFrom(-180, 0, 180));

describe("@examples", () => {
  it("sunPosition(Date.UTC(2003, 9, 17, 19, 30, 30), …)", () => {
    const ms = Date.UTC(2003, 9, 17, 19, 30, 30);
    expect(sunPosition(ms, { latitude: 39.742476, longitude: -105.1786 }).azimuthDeg).toBeCloseTo(194.34, 2);
  });
});

describe.each([
  ["sunPosition", sunPosition],
  ["moonPosition", moonPosition],
])("%s", (_, position) => {
  it("is a direction everywhere and at every instant", () => {
    fc.assert(
      fc.property(instant, latitude, longitude, (ms, lat, lon) => {
        const { azimuthDeg, altitudeDeg, trueAltitudeDeg } = position(ms, { latitude: lat, longitude: lon });
        expect(azimuthDeg).toBeGreaterThanOrEqual(0);
        expect(azimuthDeg).toBeLessThan(360);
        expect(Math.abs(trueAltitudeDeg)).toBeLessThanOrEqual(90);
        expect(altitudeDeg).toBeGreaterThanOrEqual(trueAltitudeDeg);
        expect(altitudeDeg).toBeLessThanOrEqual(90);
      }),
    );
  });

  it("is the same on both sides of the date line, and at a pole from every longitude", () => {
    fc.assert(
      fc.property(instant, latitude, longitude, (ms, lat, lon) => {
        const west = position(ms, { latitude: lat, longitude: -180 });
        const east = position(ms, { latitude: lat, longitude: 180 });
        const apart = separationDeg(west.azimuthDeg, west.trueAltitudeDeg, east.azimuthDeg, east.trueAltitudeDeg);
        expect(apart).toBeLessThan(1e-8);
        const here = position(ms, { latitude: 90, longitude: lon }).trueAltitudeDeg;
        expect(here).toBeCloseTo(position(ms, { latitude: 90, longitude: 0 }).trueAltitudeDeg, 8);
      }),
    );
  });

  it("moves without jumps, also over midnight and where the day count turns", () => {
    fc.assert(
      fc.property(instant, latitude, longitude, (ms, lat, lon) => {
        const noon = Math.round(ms / 43_200_000) * 43_200_000;
        const before = position(noon - 500, { latitude: lat, longitude: lon });
        const after = position(noon + 500, { latitude: lat, longitude: lon });
        const moved = separationDeg(before.azimuthDeg, before.trueAltitudeDeg, after.azimuthDeg, after.trueAltitudeDeg);
        expect(moved).toBeLessThan(0.0043);
      }),
    );
  });

  it.each([
    [{ latitude: 90.1, longitude: 0 }, "latitude"],
    [{ latitude: Number.NaN, longitude: 0 }, "latitude"],
    [{ latitude: 0, longitude: -180.5 }, "longitude"],
    [{ latitude: 0, longitude: 0, elevationM: 9001 }, "elevationM"],
  ])("refuses %j", (observer, param) => {
    expect(() => position(0, observer)).toThrow(expect.objectContaining({ param }));
  });

  it("refuses instants beyond its years, and what is no instant", () => {
    const strand = { latitude: 56.6, longitude: -9.4 };
    expect(() => position(Date.UTC(1850, 0, 1), strand)).toThrow(
      expect.objectContaining({ code: "impossible", param: "instantMs" }),
    );
    expect(() => position(Number.NaN, strand)).toThrow(DomainError);
  });
});

describe("the sun over a year", () => {
  it("stands in the south at noon and in the north at midnight on Ardvane", () => {
    const strand = { latitude: 56.6, longitude: -9.4 };
    // solar noon at 9.4° west on the day of the June solstice: 12:38 and the equation of time of 2 minutes
    expect(sunPosition(Date.UTC(2027, 5, 21, 12, 39, 30), strand).azimuthDeg).toBeCloseTo(180, 0);
    expect(Math.cos((sunPosition(Date.UTC(2027, 5, 22, 0, 39, 30), strand).azimuthDeg * Math.PI) / 180)).toBeCloseTo(
      1,
      3,
    );
    // latitude and obliquity of 23.44°
    expect(sunPosition(Date.UTC(2027, 5, 21, 12, 39, 30), strand).trueAltitudeDeg).toBeCloseTo(90 - 56.6 + 23.436, 1);
  });
});
