import { addDays, localDay } from "@fieldstop/core";
import { dayEvents, type SkyEvent, type SkyEventName } from "@fieldstop/core/almanac";
import { moonPosition, sunPosition } from "@fieldstop/core/sky";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;
const strand = { latitude: 56.6, longitude: -9.4 };
const named = (events: readonly SkyEvent[], name: SkyEventName): SkyEvent[] =>
  events.filter((event) => event.name === name);

describe("@examples", () => {
  it("dayEvents(Date.UTC(2027, 2, 20), Date.UTC(2027, 2, 21), …)", () => {
    const { events, polar } = dayEvents(Date.UTC(2027, 2, 20), Date.UTC(2027, 2, 21), strand);
    expect(events.map(({ name }) => name)).toEqual([
      "astronomical-dawn",
      "nautical-dawn",
      "moonset",
      "civil-dawn",
      "sunrise",
      "solar-noon",
      "moonrise",
      "sunset",
      "civil-dusk",
      "nautical-dusk",
      "astronomical-dusk",
    ]);
    expect(polar).toBe("none");
  });
});

describe("dayEvents", () => {
  const ALTITUDES: Partial<Record<SkyEventName, number>> = {
    "astronomical-dawn": -18,
    "nautical-dawn": -12,
    "civil-dawn": -6,
    sunrise: -50 / 60,
    sunset: -50 / 60,
    "civil-dusk": -6,
    "nautical-dusk": -12,
    "astronomical-dusk": -18,
  };

  it("has every event where body and altitude, computed anew, say so, in order and within the day", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: Date.UTC(1900, 0, 1), max: Date.UTC(2100, 11, 30) }),
        fc.double({ min: -90, max: 90, noNaN: true }),
        fc.double({ min: -180, max: 180, noNaN: true }),
        (ms, latitude, longitude) => {
          const observer = { latitude, longitude };
          const { events, polar } = dayEvents(ms, ms + DAY_MS, observer);
          let before = ms;
          for (const { name, instantMs, azimuthDeg } of events) {
            expect(instantMs).toBeGreaterThanOrEqual(before);
            expect(instantMs).toBeLessThan(ms + DAY_MS);
            before = instantMs;
            const moon = name.startsWith("moon");
            const position = (moon ? moonPosition : sunPosition)(instantMs, observer);
            const turn = Math.abs(((position.azimuthDeg - azimuthDeg + 540) % 360) - 180);
            expect(turn * Math.cos((position.trueAltitudeDeg * Math.PI) / 180)).toBeLessThan(0.0001);
            if (moon) {
              const { trueAltitudeDeg, semidiameterDeg } = moonPosition(instantMs, observer);
              expect(Math.abs(trueAltitudeDeg + semidiameterDeg + 34 / 60)).toBeLessThan(0.0003);
            } else if (name !== "solar-noon") {
              expect(Math.abs(position.trueAltitudeDeg - (ALTITUDES[name] as number))).toBeLessThan(0.0003);
            }
          }
          const upAndDown = named(events, "sunrise").length + named(events, "sunset").length;
          expect(polar === "none").toBe(upAndDown > 0);
        },
      ),
      { numRuns: 200 },
    );
  });

  it("gives each event to one local day in a row of days, whatever the zone does with its clocks", () => {
    const zone = "Europe/London";
    const days = Array.from({ length: 60 }, (_, i) => localDay(addDays("2027-03-01", i), zone));
    const byDay = days.flatMap(({ startMs, endMs }) => dayEvents(startMs, endMs, strand).events);
    const atOnce = dayEvents(days[0]?.startMs as number, days.at(-1)?.endMs as number, strand).events;
    expect(byDay.map(({ name }) => name)).toEqual(atOnce.map(({ name }) => name));
    for (const [i, { instantMs }] of byDay.entries()) {
      expect(Math.abs(instantMs - (atOnce[i]?.instantMs as number))).toBeLessThan(50);
    }
  });

  it("knows polar day and polar night, in both hemispheres", () => {
    const polarOn = (ms: number, latitude: number) => dayEvents(ms, ms + DAY_MS, { latitude, longitude: 16 });
    for (const [ms, latitude, polar] of [
      [Date.UTC(2027, 5, 21), 78.2, "day"],
      [Date.UTC(2027, 11, 21), 78.2, "night"],
      [Date.UTC(2027, 5, 21), -78.2, "night"],
      [Date.UTC(2027, 11, 21), -78.2, "day"],
    ] as const) {
      const answer = polarOn(ms, latitude);
      expect(answer.polar).toBe(polar);
      expect(named(answer.events, "sunrise")).toEqual([]);
      expect(named(answer.events, "solar-noon")).toHaveLength(1);
    }
    expect(named(polarOn(Date.UTC(2027, 11, 21), 70).events, "civil-dawn")).toHaveLength(1);
  });

  it("lets an eye high above the sea see the sun earlier and longer", () => {
    const at = (height: number, name: SkyEventName): number =>
      named(dayEvents(Date.UTC(2027, 2, 20), Date.UTC(2027, 2, 21), strand, height).events, name)[0]
        ?.instantMs as number;
    // a dip of 0.293° at the sun's slope of 15°·cos 56.6° an hour
    const seconds = (0.293 / (15 * Math.cos((56.6 * Math.PI) / 180))) * 3600;
    expect((at(0, "sunrise") - at(100, "sunrise")) / 1000).toBeCloseTo(seconds, -1);
    expect((at(100, "sunset") - at(0, "sunset")) / 1000).toBeCloseTo(seconds, -1);
    expect(at(100, "civil-dusk")).toBe(at(0, "civil-dusk"));
  });

  it("answers for a day that a zone left out: nothing happens, and it is no polar day", () => {
    // IANA: Samoa left out 30 December 2011
    const { startMs, endMs } = localDay("2011-12-30", "Pacific/Apia");
    expect(dayEvents(startMs, endMs, { latitude: -13.8, longitude: -171.8 })).toEqual({ events: [], polar: "none" });
  });

  it("refuses what is no place, no height and no day", () => {
    const ms = Date.UTC(2027, 2, 20);
    expect(() => dayEvents(ms, ms + DAY_MS, { latitude: 91, longitude: 0 })).toThrow(
      expect.objectContaining({ param: "latitude" }),
    );
    expect(() => dayEvents(ms, ms + DAY_MS, strand, Number.NaN)).toThrow(
      expect.objectContaining({ param: "heightAboveSeaM" }),
    );
    expect(() => dayEvents(ms, ms - 1, strand)).toThrow(expect.objectContaining({ param: "endMs" }));
  });
});
