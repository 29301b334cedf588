import {
  type ForecastHeadline,
  type ForecastLine,
  type ForecastSession,
  forecastWords,
  horizonProfileFromPoints,
  type OutingRequest,
  planOuting,
} from "@fieldstop/core";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const ridge = horizonProfileFromPoints([
  { azimuthDeg: 0, altitudeDeg: 0 },
  { azimuthDeg: 232, altitudeDeg: 0 },
  { azimuthDeg: 246, altitudeDeg: 5 },
  { azimuthDeg: 312, altitudeDeg: 5 },
  { azimuthDeg: 320, altitudeDeg: 0 },
]);
const strand: OutingRequest = {
  place: { name: "Ardvane Strand", latitude: 56.6, longitude: -9.4, elevationM: 2 },
  date: "2027-03-20",
  timeZone: "Europe/London",
  session: "evening",
  horizon: { kind: "profile", profile: ridge },
  camera: { focalLengthMm: 24, azimuthDeg: 290 },
};
const words = (request: Partial<OutingRequest>, session: ForecastSession = "evening") =>
  forecastWords(planOuting({ ...strand, ...request, session }), session);

type Told<Code extends string> = Extract<ForecastLine | ForecastHeadline, { readonly code: Code }>;
const lineOf = <Code extends ForecastLine["code"]>(summary: readonly ForecastLine[], code: Code): Told<Code> => {
  const found = summary.find((line) => line.code === code);
  if (found === undefined) throw new Error(`no line ${code}`);
  return found as Told<Code>;
};

describe("@examples", () => {
  it("forecastWords", () => {
    expect(words({}).headline.code).toBe("light-goes");
  });
});

describe("the low light where the sun stays up", () => {
  const midsummer = {
    place: { latitude: 69.65, longitude: 18.96 },
    date: "2026-06-21",
    timeZone: "Europe/Oslo",
    horizon: { kind: "flat" },
  } as const;

  it.each(["evening", "morning"] as const)("is told on both sides of the lowest sun (%s)", (session) => {
    const line = lineOf(words(midsummer, session).summary, "golden-light");
    const { start, end, minutes } = line;
    expect(minutes).toBeCloseTo((Date.parse(end as string) - Date.parse(start as string)) / 60_000, 1);
    const { headline } = words(midsummer, session);
    const lowest = Date.parse((headline as Told<"sun-stays-up">).instant);
    expect(Date.parse(start as string)).toBeLessThan(lowest - 60 * 60_000);
    expect(Date.parse(end as string)).toBeGreaterThan(lowest + 60 * 60_000);
  });
});

describe("nights without a twilight", () => {
  const north = { place: { latitude: 85, longitude: 20 }, date: "2027-12-20", horizon: { kind: "flat" } } as const;

  it("say when the sun is highest, and how far under the horizon", () => {
    const { headline, summary } = words(north);
    expect(headline).toMatchObject({ highest: { trueAltitudeDeg: expect.closeTo(-18.4, 0) } });
    expect(lineOf(summary, "golden-light").start).toBeNull();
    expect(lineOf(summary, "sky-not-known").blueHour).toBeNull();
    expect(lineOf(summary, "contrast").moment).toBe("highest-sun");
  });

  it("are told from those that have one", () => {
    expect(words({ ...north, place: { latitude: 70, longitude: 20 } }).headline).toMatchObject({
      code: "sun-stays-down",
      highest: { trueAltitudeDeg: expect.closeTo(-3.4, 0) },
    });
  });
});

describe("the headline", () => {
  it("tells that a ridge takes the light long before sunset, at the azimuth of the skyline's cut", () => {
    const plan = planOuting(strand);
    const headline = forecastWords(plan, "evening").headline as Told<"light-goes">;
    const last = plan.light.directLight.intervals.at(-1);
    expect(headline).toMatchObject({ code: "light-goes", cause: "terrain", azimuthDeg: last?.endAzimuthDeg });
    expect(headline.instant).toBe(plan.light.directLight.lastInstant);
    const sunset = plan.light.events.find(({ name }) => name === "sunset")?.instant as string;
    expect(headline.minutesInside).toBeCloseTo((Date.parse(sunset) - Date.parse(headline.instant)) / 60_000, 1);
    expect(headline.minutesInside).toBeGreaterThan(20);
  });

  it("tells that over the sea the light goes with the almanac", () => {
    const headline = words({ horizon: { kind: "flat" } }).headline as Told<"light-goes">;
    expect(headline.cause).toBe("horizon");
    expect(Math.abs(headline.minutesInside as number)).toBeLessThan(1);
  });

  it("tells that a wall turns into its own shade", () => {
    const subject = { facingAzimuthDeg: 130 };
    const headline = words({ horizon: { kind: "flat" }, subject }).headline as Told<"light-goes">;
    expect(headline.cause).toBe("facing");
    expect(headline.minutesInside).toBeGreaterThan(60);
  });

  it("of a morning tells when the light comes", () => {
    const headline = words({ horizon: { kind: "flat" } }, "morning").headline as Told<"light-comes">;
    expect(headline).toMatchObject({ code: "light-comes", cause: "horizon" });
    expect(headline.azimuthDeg).toBeGreaterThan(80);
    expect(headline.azimuthDeg).toBeLessThan(100);
  });

  it("knows evenings without an end, without light and without a sun", () => {
    const flat = { kind: "flat" } as const;
    const at = (latitude: number, date: string) =>
      words({ place: { latitude, longitude: -9.4 }, date, horizon: flat }).headline.code;
    expect(at(70, "2027-06-20")).toBe("sun-stays-up");
    expect(at(70, "2027-12-20")).toBe("sun-stays-down");
    expect(at(85, "2027-12-20")).toBe("sun-stays-down");
    const wall = horizonProfileFromPoints([
      { azimuthDeg: 0, altitudeDeg: 60 },
      { azimuthDeg: 180, altitudeDeg: 60 },
    ]);
    const { headline, summary } = words({ horizon: { kind: "profile", profile: wall } });
    expect(headline.code).toBe("no-direct-light");
    expect(lineOf(summary, "golden-light")).toMatchObject({ minutes: 0, start: null, end: null });
  });

  it("holds for a sun that goes past midnight, on a day that the windows do not tell of", () => {
    const place = { latitude: 64.1, longitude: -21.9 };
    const headline = words({ place, date: "2027-06-21", timeZone: "Atlantic/Reykjavik", horizon: { kind: "flat" } })
      .headline as Told<"light-goes">;
    expect(headline.instant.slice(0, 10)).toBe("2027-06-22");
    expect(headline.cause).toBe("horizon");
    expect(Math.abs(headline.minutesInside as number)).toBeLessThan(1);
  });
});

describe("the summary", () => {
  it("begins with whether to go", () => {
    expect(words({}).summary[0]).toMatchObject({ code: "verdict", verdict: { sureness: "unsure" } });
  });

  it("tells a northern city in June of this night's blue hour, not of the last one's", () => {
    const place = { latitude: 60, longitude: 25 };
    const { summary } = words({ place, date: "2027-06-20", timeZone: "Europe/Helsinki", horizon: { kind: "flat" } });
    // the sun is 4° down only after midnight
    expect(lineOf(summary, "sky-not-known").blueHour?.end).toMatch(/^2027-06-21T0/);
  });

  it("has the sky's outlook where cloud is known, else when the blue hour is", () => {
    expect(lineOf(words({}).summary, "sky-not-known").blueHour?.start).toMatch(/^2027-03-20T19:/);
    const { summary } = words({ sky: { cloudCover: { low: 10, middle: 30, high: 50 } } });
    expect(lineOf(summary, "sky-outlook").outlook).toBe("likely");
    expect(summary.some(({ code }) => code === "sky-not-known")).toBe(false);
  });

  it("says of fog on the lens only where it threatens", () => {
    const codes = (relativeHumidity: number) =>
      words({ sky: { temperatureC: 5, relativeHumidity } }).summary.map(({ code }) => code);
    expect(codes(99)).toContain("lens-fog");
    expect(codes(40)).not.toContain("lens-fog");
  });

  it("tells the contrast of the moment in the headline, with the bracket that the plan has for it", () => {
    const plan = planOuting(strand);
    const line = lineOf(forecastWords(plan, "evening").summary, "contrast");
    const moment = plan.moments.find(({ name }) => name === "last-direct-light");
    expect(line).toMatchObject({
      moment: "last-direct-light",
      contrastStops: moment?.contrastStops,
      approach: moment?.approach.kind,
      frames: moment?.bracket?.count ?? 1,
    });
  });

  it("has five to eight lines, whatever the place, the day and the air", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -65, max: 65, noNaN: true }),
        fc.integer({ min: 0, max: 364 }),
        fc.constantFrom("evening", "morning" as const),
        fc.option(fc.integer({ min: 1, max: 100 })),
        (latitude, day, session, relativeHumidity) => {
          const date = new Date(Date.UTC(2027, 0, 1 + day)).toISOString().slice(0, 10);
          const sky = relativeHumidity === null ? undefined : { temperatureC: 5, relativeHumidity };
          const { headline, summary } = words(
            { place: { latitude, longitude: 12 }, timeZone: "Etc/UTC", date, horizon: { kind: "flat" }, sky },
            session as ForecastSession,
          );
          expect(summary.length).toBeGreaterThanOrEqual(5);
          expect(summary.length).toBeLessThanOrEqual(8);
          expect(new Set(summary.map(({ code }) => code)).size).toBe(summary.length);
          expect(["light-goes", "light-comes", "sun-stays-up"]).toContain(headline.code);
        },
      ),
      { numRuns: 40 },
    );
  });
});
