import {
  dayEvents,
  type SkyEventName,
  type TwilightKind,
  type TwilightWindow,
  twilightWindows,
} from "@fieldstop/core/almanac";
import { CLOUD_DECK_HEIGHTS_M, cloudLitDownToDeg, sunPosition } from "@fieldstop/core/sky";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;
const strand = { latitude: 56.6, longitude: -9.4 };
const BOUNDS: Readonly<Record<TwilightKind, readonly [number, number]>> = {
  "golden-hour": [-4, 6],
  "blue-hour": [-6, -4],
  "civil-twilight": [-6, -50 / 60],
  "nautical-twilight": [-12, -6],
  "astronomical-twilight": [-18, -12],
  "cloud-lit-low": [cloudLitDownToDeg(CLOUD_DECK_HEIGHTS_M.low), -50 / 60],
  "cloud-lit-middle": [cloudLitDownToDeg(CLOUD_DECK_HEIGHTS_M.middle), -50 / 60],
  "cloud-lit-high": [cloudLitDownToDeg(CLOUD_DECK_HEIGHTS_M.high), -50 / 60],
};

const of = (windows: readonly TwilightWindow[], kind: TwilightKind, part: "morning" | "evening"): TwilightWindow[] =>
  windows.filter((window) => window.kind === kind && window.part === part);

describe("twilightWindows", () => {
  it("holds exactly the instants at which the sun stands between the bounds, rising in the morning and falling in the evening", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: Date.UTC(1900, 0, 1), max: Date.UTC(2100, 11, 30) }),
        fc.double({ min: -89, max: 89, noNaN: true }),
        fc.double({ min: -180, max: 180, noNaN: true }),
        (ms, latitude, longitude) => {
          const observer = { latitude, longitude };
          const windows = twilightWindows(ms, ms + DAY_MS, observer);
          const altitude = (at: number): number => sunPosition(at, observer).trueAltitudeDeg;
          for (const { startMs, endMs } of windows) {
            expect(startMs).toBeGreaterThanOrEqual(ms);
            expect(endMs).toBeLessThanOrEqual(ms + DAY_MS);
            expect(endMs).toBeGreaterThan(startMs);
          }
          for (let at = ms + 60_000; at < ms + DAY_MS; at += 17 * 60_000) {
            const height = altitude(at);
            const rising = altitude(at + 1000) > altitude(at - 1000);
            for (const [kind, [low, high]] of Object.entries(BOUNDS) as [TwilightKind, [number, number]][]) {
              // within a hair of a bound or of a culmination either answer will do
              if (Math.abs(height - low) < 0.001 || Math.abs(height - high) < 0.001) continue;
              const inside = windows.filter(
                (window) => window.kind === kind && window.startMs <= at && at <= window.endMs,
              );
              expect(inside.length > 0, `${kind} at ${height}`).toBe(height > low && height < high);
              if (inside.length === 1 && Math.abs(altitude(at + 60_000) - altitude(at - 60_000)) > 0.001) {
                expect(inside[0]?.part).toBe(rising ? "morning" : "evening");
              }
            }
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  it("begins and ends with the events of the day, to the millisecond where both name the same altitude", () => {
    const startMs = Date.UTC(2027, 2, 20);
    const windows = twilightWindows(startMs, startMs + DAY_MS, strand);
    const { events } = dayEvents(startMs, startMs + DAY_MS, strand);
    const at = (name: SkyEventName): number => events.find((event) => event.name === name)?.instantMs as number;
    const [morning] = of(windows, "civil-twilight", "morning");
    const [evening] = of(windows, "civil-twilight", "evening");
    const [blue] = of(windows, "blue-hour", "evening");
    for (const [a, b] of [
      [morning?.startMs, at("civil-dawn")],
      [morning?.endMs, at("sunrise")],
      [evening?.startMs, at("sunset")],
      [evening?.endMs, at("civil-dusk")],
      [blue?.endMs, at("civil-dusk")],
    ]) {
      expect(Math.abs((a as number) - (b as number))).toBeLessThan(50);
    }
    expect(of(windows, "golden-hour", "evening")[0]?.endMs).toBeCloseTo(blue?.startMs as number, -2);
  });

  it("cuts at midnight: what began the evening before stands at the head of the day, as an evening", () => {
    // in June astronomical twilight lasts all night at 50°
    const startMs = Date.UTC(2027, 5, 21);
    const windows = twilightWindows(startMs, startMs + DAY_MS, { latitude: 50, longitude: -3 });
    const evenings = of(windows, "astronomical-twilight", "evening");
    expect(evenings).toHaveLength(2);
    expect(evenings[0]?.startMs).toBe(startMs);
    expect(evenings[1]?.endMs).toBe(startMs + DAY_MS);
    const mornings = of(windows, "astronomical-twilight", "morning");
    expect(mornings[0]?.startMs).toBe(evenings[0]?.endMs);
  });

  it("parts a sun that stays in the golden hour at noon and at midnight", () => {
    const startMs = Date.UTC(2027, 11, 21);
    const noon = of(
      twilightWindows(startMs, startMs + DAY_MS, { latitude: 65, longitude: 0 }),
      "golden-hour",
      "morning",
    );
    expect(noon).toHaveLength(1);
    const [evening] = of(
      twilightWindows(startMs, startMs + DAY_MS, { latitude: 65, longitude: 0 }),
      "golden-hour",
      "evening",
    );
    expect(evening?.startMs).toBe(noon[0]?.endMs);
  });

  it("takes other bounds for golden and blue hour", () => {
    const startMs = Date.UTC(2027, 2, 20);
    const usual = twilightWindows(startMs, startMs + DAY_MS, strand);
    const wide = twilightWindows(startMs, startMs + DAY_MS, strand, { goldenHourDeg: [-6, 10], blueHourDeg: [-8, -4] });
    const minutes = (windows: readonly TwilightWindow[], kind: TwilightKind): number =>
      of(windows, kind, "evening").reduce((sum, { startMs: a, endMs: b }) => sum + (b - a) / 60_000, 0);
    expect(minutes(wide, "golden-hour")).toBeGreaterThan(1.5 * minutes(usual, "golden-hour"));
    expect(minutes(wide, "blue-hour")).toBeGreaterThan(1.9 * minutes(usual, "blue-hour"));
    expect(minutes(wide, "civil-twilight")).toBeCloseTo(minutes(usual, "civil-twilight"), 6);
  });

  it.each([
    [{ goldenHourDeg: [6, -4] as const }, "goldenHourDeg"],
    [{ blueHourDeg: [-4, -4] as const }, "blueHourDeg"],
    [{ goldenHourDeg: [-4, Number.NaN] as const }, "goldenHourDeg.1"],
  ])("refuses the bounds %j", (bounds, param) => {
    const startMs = Date.UTC(2027, 2, 20);
    expect(() => twilightWindows(startMs, startMs + DAY_MS, strand, bounds)).toThrow(
      expect.objectContaining({ param }),
    );
  });

  it("has no window in polar night deep enough, and none in a high polar day", () => {
    const kinds = (ms: number, latitude: number): number =>
      twilightWindows(ms, ms + DAY_MS, { latitude, longitude: 0 }).length;
    expect(kinds(Date.UTC(2027, 11, 21), 89)).toBe(0);
    expect(kinds(Date.UTC(2027, 5, 21), 89)).toBe(0);
  });
});
