import { en } from "@fieldstop/api/formats/messages/en";
import { compassPoint, listOf, stopsApart, withMinus } from "@fieldstop/api/formats/messages/figures";
import type { ForecastHeadline, LightEdge } from "@fieldstop/core";
import { describe, expect, it } from "vitest";

describe("figures", () => {
  it.each([
    [1 / 3, "1/3 stop apart"],
    [2 / 3, "2/3 stop apart"],
    [1, "1 stop apart"],
    [4 / 3, "1 1/3 stops apart"],
    [2, "2 stops apart"],
    [2.5, "2.5 stops apart"],
  ])("write a step of %s as cameras mark it", (step, text) => {
    expect(stopsApart(step)).toBe(text);
  });

  it.each([
    [0, "north"],
    [22.4, "north"],
    [22.6, "north-east"],
    [270, "west"],
    [337.6, "north"],
    [359.9, "north"],
  ])("name %s° by the nearest point of the compass", (azimuthDeg, point) => {
    expect(compassPoint(azimuthDeg)).toBe(point);
  });

  it("print a minus as one, and no minus before zero", () => {
    expect([-1.24, -0.04, 0, 3.05].map((height) => withMinus(height, 1))).toEqual(["−1.2", "0.0", "0.0", "3.0"]);
  });

  it("join things as they are spoken", () => {
    expect([[], ["a"], ["a", "b"], ["a", "b", "c"]].map(listOf)).toEqual(["", "a", "a and b", "a, b and c"]);
  });
});

describe("the headline", () => {
  const edge: LightEdge = {
    instant: "2027-03-20T18:18:02+00:00",
    azimuthDeg: 264,
    cause: "terrain",
    minutesInside: 33.2,
    almanacInstant: "2027-03-20T18:51:12+00:00",
  };
  const goes = (change: Partial<LightEdge>) =>
    en.headline["light-goes"]({ code: "light-goes", ...edge, ...change }, "evening");
  const comes = (change: Partial<LightEdge>) =>
    en.headline["light-comes"]({ code: "light-comes", ...edge, ...change }, "morning");

  it("says when, where, why, and how far from the almanac", () => {
    expect(goes({})).toBe(
      "Direct light goes at 18:18 behind higher ground in the west, 33 minutes before the almanac's sunset at 18:51.",
    );
    expect(goes({ minutesInside: 1.2 })).toContain(", 1 minute before the almanac's sunset");
    expect(goes({ cause: "horizon", minutesInside: 0.1 })).toBe(
      "Direct light goes at 18:18 at the level horizon in the west, with the almanac's sunset.",
    );
    // a notch below the level, as from a height over the sea
    expect(goes({ minutesInside: -4 })).toContain(", 4 minutes after the almanac's sunset");
    expect(goes({ cause: "facing" })).toContain("when what faces it turns into its own shade, 33 minutes before");
    expect(goes({ minutesInside: null, almanacInstant: null })).toBe(
      "Direct light goes at 18:18 behind higher ground in the west.",
    );
    expect(comes({})).toContain("over higher ground in the west, 33 minutes after the almanac's sunrise");
    expect(comes({ minutesInside: -4 })).toContain(", 4 minutes before the almanac's sunrise");
  });

  it("has a sentence for each code", () => {
    const others: ForecastHeadline[] = [
      { code: "sun-stays-up", instant: edge.instant, directLight: true },
      { code: "no-direct-light", almanacInstant: edge.instant },
      { code: "no-direct-light", almanacInstant: null },
      { code: "sun-stays-down", highest: null },
    ];
    for (const told of others) {
      expect((en.headline[told.code] as (one: never, session: string) => string)(told as never, "evening")).toMatch(
        /^[A-Z].*\.$/,
      );
    }
  });
});

describe("a night without a twilight", () => {
  it("is told with the sun's highest point", () => {
    const highest = { instant: "2027-12-20T11:55:01+01:00", trueAltitudeDeg: -18.4 };
    expect(en.headline["sun-stays-down"]({ code: "sun-stays-down", highest }, "evening")).toBe(
      "The sun does not rise: it is highest at 11:55, 18° under the horizon.",
    );
  });
});

describe("the low light's line", () => {
  const line = (change: Partial<Parameters<(typeof en.line)["golden-light"]>[0]>) =>
    en.line["golden-light"](
      {
        code: "golden-light",
        minutes: 82.6,
        start: "2026-06-21T22:37:20+02:00",
        end: "2026-06-21T23:59:56+02:00",
        date: "2026-06-21",
        ...change,
      },
      "evening",
    );

  it("names the day where the light goes on past midnight", () => {
    expect(line({})).toBe("Low direct light for 83 minutes, from 22:37 to 23:59.");
    expect(line({ end: "2026-06-22T01:22:36+02:00" })).toBe(
      "Low direct light for 83 minutes, from 22:37 to 01:22 on Monday.",
    );
    expect(line({ minutes: 0, start: null, end: null })).toBe("No direct light of the low sun.");
  });
});

describe("a midnight sun", () => {
  it("is told with the day that its lowest point falls on", () => {
    const told = { code: "sun-stays-up", instant: "2027-06-21T01:09:00+02:00", directLight: true } as const;
    expect(en.headline["sun-stays-up"](told, "evening")).toBe("Midnight sun: lowest at 01:09 on Monday.");
  });
});

describe("the tide's line", () => {
  const tide = {
    code: "tide",
    station: "Ardvane Pier",
    heightM: 1.24,
    trend: "falling",
    moment: "last-direct-light",
    instant: "2027-03-20T18:18:02+00:00",
    next: { kind: "low", instant: "2027-03-20T20:02:00+00:00", heightM: 0.3 },
  } as const;

  it("says height, trend and the next turn, and sends people to the local tables", () => {
    expect(en.line.tide(tide, "evening")).toBe(
      "Tide at Ardvane Pier: 1.2 m and falling at the last direct light, low water 0.3 m at 20:02; read the local tables.",
    );
    expect(en.line.tide({ ...tide, next: null }, "evening")).toContain("light; read the local tables.");
  });
});
