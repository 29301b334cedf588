import type { LightWindows } from "@fieldstop/sdk";
import { describe, expect, it } from "vitest";
import { bearingInWords, bearingLetters, turnDeg } from "../../apps/site/src/words/bearing";
import { lightSentence, returnsInWords, whatInWords } from "../../apps/site/src/words/light-words";
import {
  ageInWords,
  clockOf,
  dateAfter,
  dateIn,
  dayInWords,
  instantAfter,
  isDate,
  minutesInWords,
} from "../../apps/site/src/words/place-time";

describe("the place's time", () => {
  it("reads the clock from the instant's own offset, and cuts to the minute", () => {
    expect(clockOf("2027-03-20T18:18:59+05:45")).toBe("18:18");
  });

  it.each([
    ["2027-03-20T23:50:00+05:45", 20, "2027-03-21T00:10:00+05:45"],
    ["2027-01-01T00:05:00-09:30", -10, "2026-12-31T23:55:00-09:30"],
    ["2027-03-20T12:00:00Z", 1, "2027-03-20T12:01:00Z"],
  ])("goes on from %s by %d min within the same offset", (instant, minutes, expected) => {
    expect(instantAfter(instant, minutes)).toBe(expected);
    expect(Date.parse(expected) - Date.parse(instant)).toBe(minutes * 60_000);
  });

  it("knows the day of a zone, and the days after it", () => {
    const late = Date.parse("2027-03-20T23:30:00Z");
    expect(dateIn("Europe/London", late)).toBe("2027-03-20");
    expect(dateIn("Pacific/Kiritimati", late)).toBe("2027-03-21");
    expect(dateAfter("2028-02-28", 1)).toBe("2028-02-29");
    expect(dayInWords("2027-03-20")).toBe("Saturday 20 March 2027");
  });

  it("takes only days that there are", () => {
    expect(["2027-03-20", "2027-02-29", "2027-3-1", "1899-12-31", "", null].map(isDate)).toEqual([
      true,
      false,
      false,
      false,
      false,
      false,
    ]);
  });

  it("puts lengths and ages into words", () => {
    expect([0.4, 59.6, 65, 120].map(minutesInWords)).toEqual(["0 min", "1 h", "1 h 5 min", "2 h"]);
    const then = new Date(0);
    expect([60_000, 3_600_000, 3 * 3_600_000, 3 * 86_400_000].map((ms) => ageInWords(then, ms))).toEqual([
      "fresh",
      "60 minutes old",
      "3 hours old",
      "3 days old",
    ]);
  });
});

describe("bearings", () => {
  it("turn the short way round, and name the nearest eighth", () => {
    expect([turnDeg(350, 10), turnDeg(10, 350)]).toEqual([20, -20]);
    expect([0, 22, 23, 246, 359].map(bearingLetters)).toEqual(["N", "N", "NE", "SW", "N"]);
    expect(bearingInWords(292)).toBe("west");
  });
});

describe("what direct light does", () => {
  const sunset = "2027-03-20T18:51:12+00:00";
  const ending = (end: string, endCause: "terrain" | "horizon") =>
    lightOf([["2027-03-20T07:17:00+00:00", end, endCause]]);

  it("names the ridge with the minutes that it takes, and the open horizon without", () => {
    expect(lightSentence(ending("2027-03-20T18:18:02+00:00", "terrain"), "evening")).toEqual({
      clock: "18:18",
      what: "direct light goes",
      why: "The ridge takes the sun 33 min before the almanac’s sunset at 18:51.",
    });
    expect(lightSentence(ending(sunset, "horizon"), "evening").why).toContain("open horizon");
    expect(lightSentence(ending("2027-03-20T18:51:00+00:00", "terrain"), "evening").why).toContain("no higher");
  });

  it("counts down to it, and says afterwards that it went", () => {
    const light = ending("2027-03-20T18:18:00+00:00", "terrain");
    const at = (clock: string) => whatInWords(light, "evening", Date.parse(`2027-03-20T${clock}:00Z`));
    expect([at("17:00"), at("18:30"), at("05:00")]).toEqual([
      "direct light goes in 1 h 18 min",
      "direct light went",
      "direct light goes",
    ]);
  });

  it("tells of light that comes back through a notch", () => {
    const light = lightOf([
      ["2027-03-21T07:15:00+00:00", "2027-03-21T18:16:00+00:00", "terrain"],
      ["2027-03-21T18:23:00+00:00", "2027-03-21T18:31:00+00:00", "terrain"],
    ]);
    expect(returnsInWords(light, "evening")).toBe(
      "It goes behind the ridge at 18:16 and is back from 18:23 for 8 min.",
    );
    expect(returnsInWords(ending(sunset, "horizon"), "evening")).toBeNull();
  });

  it("tells polar night from a ridge that keeps the sun off", () => {
    expect(lightSentence({ ...lightOf([]), polar: "night" }, "evening").why).toContain("polar night");
    expect(lightSentence(lightOf([]), "evening").why).toContain("the ridge keeps it off");
  });

  function lightOf(intervals: readonly (readonly [string, string, "terrain" | "horizon"])[]): LightWindows {
    return {
      date: "2027-03-20",
      timeZone: "Europe/London",
      place: { latitude: 56.6, longitude: -9.4, elevationM: 2, eyeHeightM: 1.6 },
      events: [{ name: "sunset", instant: sunset, azimuthDeg: 271 }],
      polar: "none",
      windows: [],
      directLight: {
        intervals: intervals.map(([start, end, endCause]) => ({
          start,
          end,
          startCause: "terrain",
          endCause,
          startAzimuthDeg: 95,
          endAzimuthDeg: 264,
          fullDisc: null,
        })),
        firstInstant: intervals[0]?.[0] ?? null,
        lastInstant: intervals.at(-1)?.[1] ?? null,
        minutesLostToTerrain: 0,
      },
      horizon: { kind: "terrain" },
      assumptions: [],
      cautions: [],
    };
  }
});
