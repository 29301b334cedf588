import { DomainError, zoneClock } from "@fieldstop/core";
import { flatHorizon, skyViewFactor } from "@fieldstop/core/horizon";
import {
  directLight,
  levelRowCount,
  lightCurveOf,
  MOST_DIRECTION_ROWS,
  MOST_LEVEL_ROWS,
  sceneLevels,
  type TraceLevelsRequest,
  traceLevels,
} from "@fieldstop/core/light";
import { moonTrack, sunTrack } from "@fieldstop/core/sky";
import { describe, expect, it } from "vitest";

describe("traceLevels", () => {
  const observer = { latitude: 56.6, longitude: -9.4 };
  const startMs = Date.UTC(2027, 2, 20, 15, 0);
  const endMs = Date.UTC(2027, 2, 20, 23, 0);
  const profile = flatHorizon(1.6);
  const evening: TraceLevelsRequest = {
    startMs,
    endMs,
    sun: sunTrack(startMs, endMs, observer),
    moon: moonTrack(startMs, endMs, observer),
    profile,
    skyViewFactor: skyViewFactor(profile),
    camera: { azimuthDeg: 275 },
    clock: zoneClock("Atlantic/Reykjavik"),
  };
  const { rows, assumptions, stepMinutes } = traceLevels(evening);

  it("has a row each minute, both ends included, with the offset of the place", () => {
    expect(stepMinutes).toBe(1);
    expect(rows).toHaveLength(8 * 60 + 1);
    expect(rows[0]?.instant).toBe("2027-03-20T15:00:00+00:00");
    expect(rows.at(-1)?.instant).toBe("2027-03-20T23:00:00+00:00");
    rows.forEach(({ instant }, i) => {
      expect(Date.parse(instant)).toBe(startMs + i * 60_000);
    });
  });

  it("sees the sun as long as there is direct light, to the second", () => {
    const ridge = { azimuthsDeg: [0, 200, 262, 264, 300], altitudesDeg: [0, 0, 4, 2.6, 2.6] };
    for (const skyline of [profile, ridge]) {
      const { intervals } = directLight({
        track: evening.sun,
        startMs,
        endMs,
        profile: skyline,
        almanacAltitudeDeg: 0,
      });
      const lastMs = intervals.at(-1)?.endMs as number;
      const around = { startMs: Math.floor(lastMs / 1000) * 1000 - 60_000, endMs: lastMs + 60_000, stepMinutes: 0.1 };
      for (const row of traceLevels({ ...evening, ...around, profile: skyline }).rows) {
        expect(row.directLight).toBe(Date.parse(row.instant) < lastMs);
      }
    }
  });

  it("says at each row what sceneLevels says of that moment", () => {
    for (const i of [0, 150, 260, 400, 480]) {
      const row = rows[i];
      if (row === undefined) throw new Error(`no row ${i}`);
      const ms = startMs + i * 60_000;
      expect(row.sun).toEqual(evening.sun(ms));
      const { moon, directMoonlight } = row;
      if (moon === undefined) throw new Error("no moon");
      const phaseAngleDeg = (Math.acos(2 * moon.illuminatedFraction - 1) * 180) / Math.PI;
      const levels = sceneLevels({
        sun: row.sun,
        moon: { ...moon, phaseAngleDeg, directLight: directMoonlight },
        directLight: row.directLight,
        skyViewFactor: 1,
        camera: { azimuthDeg: 275 },
      });
      expect(row.uncertaintyStops).toBeCloseTo(levels.uncertaintyStops, 9);
      for (const part of ["sky", "litGround", "openShade", "deepShade", "stillWater"] as const) {
        expect(row.ev100[part]).toBeCloseTo(levels.ev100[part], 6);
      }
      expect(row.contrastStops).toBeCloseTo(levels.contrastStops, 6);
    }
  });

  it("counts how fast the light goes so that the rates add up to what was lost", () => {
    const lux = rows.map(({ illuminanceLux }) => Math.log2(illuminanceLux));
    // the trapezoid of central differences telescopes: ends once, middles by neighbours
    const sum = rows.slice(1, -1).reduce((total, { stopsPerMinute }) => total + stopsPerMinute, 0);
    const n = rows.length;
    const expected = ((lux[n - 1] as number) + (lux[n - 2] as number) - (lux[1] as number) - (lux[0] as number)) / 2;
    expect(sum).toBeCloseTo(expected, 6);
    const dusk = rows.find(({ sun }) => sun.trueAltitudeDeg < -5);
    expect(dusk?.stopsPerMinute).toBeLessThan(-0.1);
    expect(dusk?.stopsPerMinute).toBeGreaterThan(-0.4);
  });

  it("has direct light while any of the disc is over the skyline, less of it behind a ridge", () => {
    const seen = rows.filter(({ directLight }) => directLight);
    const last = seen.at(-1);
    expect(last?.sun.altitudeDeg).toBeGreaterThan(-0.4);
    expect(last?.sun.altitudeDeg).toBeLessThan(0);
    const ridge = { azimuthsDeg: [0, 200, 240, 300, 340], altitudesDeg: [0, 0, 7, 7, 0] };
    const behind = traceLevels({ ...evening, profile: ridge, skyViewFactor: skyViewFactor(ridge) }).rows;
    const lastBehind = behind.filter(({ directLight }) => directLight).at(-1);
    expect(lastBehind?.sun.altitudeDeg).toBeGreaterThan(6.6);
    expect(lastBehind?.sun.altitudeDeg).toBeLessThan(7);
    const dark = behind.find(({ directLight }) => !directLight);
    // what beam is left is the moon's, a millionth of the light
    expect(dark?.directLux).toBeLessThan(0.1);
    expect(dark?.ev100.litGround).toBeCloseTo(dark?.ev100.openShade as number, 3);
  });

  it("says once what it assumed", () => {
    const fields = assumptions.map(({ field }) => field);
    expect(new Set(fields).size).toBe(fields.length);
    expect(fields).toContain("reflectance");
    expect(fields).not.toContain("moon");
    const moonless = traceLevels({ ...evening, moon: undefined });
    expect(moonless.assumptions.map(({ field }) => field)).toContain("moon");
    expect(moonless.rows[0]?.moon).toBeUndefined();
  });

  it("gives each row its directions where asked", () => {
    const { rows: few } = traceLevels({ ...evening, stepMinutes: 60, directions: true });
    expect(few).toHaveLength(9);
    for (const { directions, ev100 } of few) {
      expect(directions).toHaveLength(24);
      const skies = directions?.map(({ skyEv100 }) => skyEv100) ?? [];
      expect(Math.min(...skies)).toBeLessThanOrEqual(ev100.sky);
    }
  });

  it("hands its ground, or another part, to exposures through changing light", () => {
    const samples = lightCurveOf({ rows, assumptions, stepMinutes });
    expect(samples).toHaveLength(rows.length);
    expect(samples[100]).toEqual({ instantMs: startMs + 6_000_000, ev100: rows[100]?.ev100.litGround });
    expect(lightCurveOf({ rows, assumptions, stepMinutes }, "sky")[7]?.ev100).toBe(rows[7]?.ev100.sky);
  });

  it("leaves the ridge out of the sky in the frame", () => {
    const ridge = { azimuthsDeg: [0, 180, 181, 359], altitudesDeg: [0, 0, 9, 9] };
    const facing = { ...evening, profile: ridge, stepMinutes: 30, directions: true };
    const told = { ...facing, camera: { azimuthDeg: 275, skylineAltitudeDeg: 9 } };
    const level = { ...facing, camera: { azimuthDeg: 275, skylineAltitudeDeg: 0 } };
    const found = traceLevels(facing).rows.map(({ ev100 }) => ev100.sky);
    expect(found).toEqual(traceLevels(told).rows.map(({ ev100 }) => ev100.sky));
    expect(found).not.toEqual(traceLevels(level).rows.map(({ ev100 }) => ev100.sky));
    const directions = traceLevels(facing).rows[0]?.directions ?? [];
    const open = traceLevels({ ...facing, profile }).rows[0]?.directions ?? [];
    expect(directions[6]?.skyEv100).toBeCloseTo(open[6]?.skyEv100 as number, 9);
    expect(directions[18]?.skyEv100).not.toBeCloseTo(open[18]?.skyEv100 as number, 3);
  });

  it("counts its rows beforehand", () => {
    expect(levelRowCount(evening)).toBe(rows.length);
  });

  it("takes a span of one instant", () => {
    const { rows: only } = traceLevels({ ...evening, endMs: startMs });
    expect(only).toHaveLength(1);
    expect(only[0]?.stopsPerMinute).toBe(0);
  });

  it("refuses too many rows before it reckons any, and spans that end before they begin", () => {
    let asked = 0;
    const counting: TraceLevelsRequest = {
      ...evening,
      sun: (ms) => {
        asked++;
        return evening.sun(ms);
      },
    };
    const years = (): unknown => traceLevels({ ...counting, endMs: startMs + 3.15e13 });
    expect(years).toThrow(DomainError);
    expect(years).toThrow("to:");
    expect(() => traceLevels({ ...counting, endMs: startMs + MOST_LEVEL_ROWS * 60_000 })).toThrow("to:");
    const many = { ...counting, endMs: startMs + MOST_DIRECTION_ROWS * 60_000, directions: true };
    expect(() => traceLevels(many)).toThrow("to:");
    expect(() => traceLevels({ ...counting, endMs: startMs - 1 })).toThrow("to:");
    expect(() => traceLevels({ ...counting, endMs: Number.NaN })).toThrow("to:");
    expect(() => traceLevels({ ...counting, stepMinutes: 0 })).toThrow("stepMinutes:");
    expect(() => levelRowCount({ startMs, endMs: startMs + 86_400_000, stepMinutes: 0.1 })).toThrow("stepMinutes:");
    expect(asked).toBe(0);
  });
});
