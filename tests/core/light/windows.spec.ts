import { DomainError } from "@fieldstop/core";
import { findLightWindows, type LightWindow, type LightWindows, type LightWindowsRequest } from "@fieldstop/core/light";
import { describe, expect, it } from "vitest";

const STRAND = { latitude: 56.6, longitude: -9.4 };
const FLAT = { kind: "flat" } as const;
const spring = { place: STRAND, date: "2027-03-20", timeZone: "Etc/UTC", horizon: FLAT } as const;
const ridge = {
  kind: "profile",
  profile: { azimuthsDeg: [0, 200, 230, 300, 330], altitudesDeg: [0, 0, 6, 6, 0] },
  source: "read by compass",
} as const;

const at = (year: number, month: number, day: number, hour = 0): number => Date.UTC(year, month - 1, day, hour);

/** Whatever the day: in order, inside it, apart, its minutes those of its ends. */
function holdTogether(light: LightWindows, startMs: number, hours: number): void {
  const endMs = startMs + hours * 3_600_000;
  const inside = (instant: string): number => {
    const ms = Date.parse(instant);
    expect(ms).toBeGreaterThanOrEqual(startMs);
    expect(ms).toBeLessThanOrEqual(endMs);
    expect(instant).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d[+-]\d\d:\d\d$/);
    return ms;
  };
  const events = light.events.map(({ instant }) => inside(instant));
  expect(events).toEqual([...events].sort((a, b) => a - b));
  for (const ms of events) expect(ms).toBeLessThan(endMs);
  for (const { start, end, minutes } of light.windows) {
    expect(Math.abs((inside(end) - inside(start)) / 60_000 - minutes)).toBeLessThanOrEqual(1 / 60);
  }
  let before = Number.NEGATIVE_INFINITY;
  for (const { start, end, fullDisc } of light.directLight.intervals) {
    expect(inside(start)).toBeGreaterThanOrEqual(before);
    before = inside(end);
    expect(before).toBeGreaterThanOrEqual(inside(start));
    if (fullDisc === null) continue;
    expect(inside(fullDisc.start)).toBeGreaterThanOrEqual(inside(start));
    expect(inside(fullDisc.end)).toBeLessThanOrEqual(inside(end));
  }
  expect(light.directLight.firstInstant).toBe(light.directLight.intervals[0]?.start ?? null);
  expect(light.directLight.lastInstant).toBe(light.directLight.intervals.at(-1)?.end ?? null);
}

const names = ({ events }: LightWindows): string[] => events.map(({ name }) => name);
const instantOf = ({ events }: LightWindows, wanted: string): string =>
  events.find(({ name }) => name === wanted)?.instant ?? "";

describe("@examples", () => {
  it("findLightWindows", () => {
    expect(findLightWindows(spring).polar).toBe("none");
  });
});

describe("findLightWindows", () => {
  it("tells a whole day", () => {
    const light = findLightWindows(spring);
    holdTogether(light, at(2027, 3, 20), 24);
    expect(names(light).filter((name) => !name.startsWith("moon"))).toEqual([
      "astronomical-dawn",
      "nautical-dawn",
      "civil-dawn",
      "sunrise",
      "solar-noon",
      "sunset",
      "civil-dusk",
      "nautical-dusk",
      "astronomical-dusk",
    ]);
    expect(light.windows.map(({ kind, part }) => `${part} ${kind}`)).toEqual([
      "morning astronomical-twilight",
      "morning nautical-twilight",
      "morning blue-hour",
      "morning civil-twilight",
      "morning cloud-lit-high",
      "morning golden-hour",
      "morning cloud-lit-middle",
      "morning cloud-lit-low",
      "evening golden-hour",
      "evening cloud-lit-low",
      "evening cloud-lit-middle",
      "evening cloud-lit-high",
      "evening civil-twilight",
      "evening blue-hour",
      "evening nautical-twilight",
      "evening astronomical-twilight",
    ]);
    const { directLight, horizon, place } = light;
    expect(directLight.intervals).toMatchObject([{ startCause: "horizon", endCause: "horizon" }]);
    expect(directLight.minutesLostToTerrain).toBe(0);
    expect(horizon).toEqual({ kind: "flat" });
    expect(place).toEqual({ ...STRAND, elevationM: 0, eyeHeightM: 1.6 });
    expect(light.subjectLight).toBeUndefined();
  });

  it.each([
    [0, undefined],
    [1.6, 800],
    [40, 800],
    [900, 0],
  ])("sees the sun from sunrise to sunset over a flat horizon from %s m of eye height", (eyeHeightM, elevationM) => {
    const light = findLightWindows({ ...spring, place: { ...STRAND, eyeHeightM, elevationM } });
    const { firstInstant, lastInstant } = light.directLight;
    // thinner air on high ground lifts the sun less than the almanac's 34′: a minute at most for the lift of 800 m
    const toleranceMs = elevationM === 800 ? 30_000 : 1000;
    expect(Math.abs(Date.parse(firstInstant ?? "") - Date.parse(instantOf(light, "sunrise")))).toBeLessThanOrEqual(
      toleranceMs,
    );
    expect(Math.abs(Date.parse(lastInstant ?? "") - Date.parse(instantOf(light, "sunset")))).toBeLessThanOrEqual(
      toleranceMs,
    );
  });

  it("loses the sun early behind a ridge, and says so", () => {
    const open = findLightWindows(spring);
    const light = findLightWindows({ ...spring, horizon: ridge });
    const lastMs = Date.parse(light.directLight.lastInstant ?? "");
    const sunsetMs = Date.parse(instantOf(light, "sunset"));
    // 6° at a fall of about 8° an hour
    expect((sunsetMs - lastMs) / 60_000).toBeGreaterThan(38);
    expect((sunsetMs - lastMs) / 60_000).toBeLessThan(52);
    const minutesOf = ({ directLight: { intervals } }: LightWindows): number =>
      intervals.reduce((sum, { start, end }) => sum + (Date.parse(end) - Date.parse(start)) / 60_000, 0);
    expect(Math.abs(light.directLight.minutesLostToTerrain - (minutesOf(open) - minutesOf(light)))).toBeLessThan(0.05);
    expect(light.directLight.intervals.at(-1)).toMatchObject({ endCause: "terrain" });
    expect(light.events).toEqual(open.events);
    expect(light.windows).toEqual(open.windows);
    expect(light.horizon).toEqual({ kind: "profile", source: "read by compass" });
    expect(light.assumptions.map(({ field }) => field)).not.toContain("horizon");
  });

  it("lights a wall while the sun stands before it", () => {
    const light = findLightWindows({ ...spring, subject: { facingAzimuthDeg: 290 } });
    const [lit] = light.subjectLight?.intervals ?? [];
    expect(light.subjectLight?.intervals).toHaveLength(1);
    expect(lit).toMatchObject({ startCause: "facing", endCause: "horizon" });
    expect(lit?.startAzimuthDeg).toBeCloseTo(200, 3);
    expect(lit?.end).toBe(light.directLight.lastInstant);
    // a wall to the north has a few minutes at either end of the equinox's day, and an overhang those in which the centre is under the level
    for (const subject of [{ facingAzimuthDeg: 0 }, { slopeDeg: 180 }]) {
      const { subjectLight } = findLightWindows({ ...spring, subject });
      expect(subjectLight?.intervals).toMatchObject([
        { startCause: "horizon", endCause: "facing" },
        { startCause: "facing", endCause: "horizon" },
      ]);
      for (const { start, end } of subjectLight?.intervals ?? []) {
        expect(Date.parse(end) - Date.parse(start)).toBeLessThan(10 * 60_000);
      }
    }
  });

  it("gives a subject its own skyline and place", () => {
    const subject = { latitude: 56.7, longitude: -9.1, horizon: ridge };
    const light = findLightWindows({ ...spring, subject });
    expect(light.directLight.intervals.at(-1)).toMatchObject({ endCause: "horizon" });
    expect(light.subjectLight?.intervals.at(-1)).toMatchObject({ endCause: "terrain" });
    const there = findLightWindows({ ...spring, place: { latitude: 56.7, longitude: -9.1 }, horizon: ridge });
    expect(light.subjectLight?.lastInstant).toBe(there.directLight.lastInstant);
    expect(light.assumptions.map(({ field }) => field)).not.toContain("subject.horizon");
  });

  it("says what it takes for granted, and what can hurt", () => {
    const fields = (request: LightWindowsRequest): string[] =>
      findLightWindows(request).assumptions.map(({ field }) => field);
    expect(fields(spring)).toEqual(["eyeHeightM", "horizon", "refraction", "cloudLit"]);
    const place = { ...STRAND, eyeHeightM: 3 };
    expect(fields({ ...spring, place, horizon: ridge })).toEqual(["refraction", "cloudLit"]);
    const subject = { latitude: 56.7, longitude: -9.1, facingAzimuthDeg: 90 };
    expect(fields({ ...spring, place, horizon: ridge, subject })).toEqual([
      "refraction",
      "cloudLit",
      "subject.slopeDeg",
      "subject.horizon",
    ]);
    const cautions = (date: string, latitude: number): string[] =>
      findLightWindows({ ...spring, date, place: { latitude, longitude: 15 } }).cautions.map(({ code }) => code);
    expect(cautions("2027-03-20", 56)).toEqual(["sun-through-optics", "dark-paths"]);
    expect(cautions("2027-06-21", 78)).toEqual(["sun-through-optics"]);
    expect(cautions("2027-12-21", 78)).toEqual(["dark-paths"]);
  });

  it("names the usual air where none is given, thinner higher up", () => {
    const air = (request: LightWindowsRequest): unknown =>
      findLightWindows(request).assumptions.find(({ field }) => field === "refraction")?.value;
    expect(air(spring)).toBe("1010 hPa, 10 °C");
    expect(air({ ...spring, place: { ...STRAND, elevationM: 2000 } })).toBe("792 hPa, 10 °C");
    expect(air({ ...spring, atmosphere: { temperatureC: 3 } })).toBe("1010 hPa, 3 °C");
  });

  it("names the skyline that cannot be read, the camera's or the subject's", () => {
    const twice = { kind: "profile", profile: { azimuthsDeg: [90, 90], altitudesDeg: [0, 1] } } as const;
    expect(() => findLightWindows({ ...spring, horizon: twice })).toThrow("horizon.profile.azimuthsDeg.1:");
    const subject = { latitude: 56.7, longitude: -9.1, horizon: twice };
    expect(() => findLightWindows({ ...spring, subject })).toThrow("subject.horizon.profile.azimuthsDeg.1:");
    expect(() => findLightWindows({ ...spring, atmosphere: { pressureHPa: 2 } })).toThrow("atmosphere.pressureHPa:");
  });

  it("refracts by the air that is given", () => {
    const atmosphere = { pressureHPa: 1040, temperatureC: -30 };
    const cold = findLightWindows({ ...spring, atmosphere });
    expect(Date.parse(cold.directLight.lastInstant ?? "")).toBeGreaterThan(
      Date.parse(findLightWindows(spring).directLight.lastInstant ?? "") + 30_000,
    );
    expect(cold.assumptions).toContainEqual(
      expect.objectContaining({ field: "refraction", value: "1040 hPa, -30 °C" }),
    );
  });
});

describe("findLightWindows on awkward days", () => {
  const days: [
    what: string,
    date: string,
    timeZone: string,
    latitude: number,
    longitude: number,
    startMs: number,
    hours: number,
  ][] = [
    ["spring forward", "2027-03-28", "Europe/Berlin", 52.4, 13.1, at(2027, 3, 27, 23), 23],
    ["fall back", "2027-10-31", "Europe/Berlin", 52.4, 13.1, at(2027, 10, 30, 22), 25],
    ["half an hour's change", "2027-04-04", "Australia/Lord_Howe", -31.5, 159.1, at(2027, 4, 3, 13), 24.5],
    ["an offset of 45 minutes", "2028-02-29", "Asia/Kathmandu", 28, 84, at(2028, 2, 28, 18) + 15 * 60_000, 24],
    ["the same south-east", "2027-01-10", "Pacific/Chatham", -43.9, -176.5, at(2027, 1, 9, 10) + 15 * 60_000, 24],
    ["just west of the date line", "2027-01-10", "Pacific/Kiritimati", 1.9, -157.4, at(2027, 1, 9, 10), 24],
    ["on the date line", "2027-07-01", "Etc/GMT-12", 0, 180, at(2027, 6, 30, 12), 24],
    ["the first day", "1900-01-01", "Etc/UTC", 56.6, -9.4, at(1900, 1, 1), 24],
    ["the last day", "2100-12-31", "Etc/UTC", 56.6, -9.4, at(2100, 12, 31), 24],
    ["the last day far west", "2100-12-31", "Etc/GMT+12", 56.6, -170, at(2100, 12, 31, 12), 24],
    ["the pole at the equinox", "2027-03-20", "Etc/UTC", 90, 0, at(2027, 3, 20), 24],
    ["the other pole", "2027-03-20", "Etc/UTC", -90, 180, at(2027, 3, 20), 24],
  ];

  it.each(days)("%s", (_what, date, timeZone, latitude, longitude, startMs, hours) => {
    const light = findLightWindows({ place: { latitude, longitude }, date, timeZone, horizon: FLAT });
    holdTogether(light, startMs, hours);
    expect(light).toMatchObject({ date, timeZone });
    if (Math.abs(latitude) === 90) return;
    for (const name of ["sunrise", "solar-noon", "sunset"]) expect(names(light)).toContain(name);
    expect(light.directLight.firstInstant).toBe(instantOf(light, "sunrise"));
    expect(light.directLight.lastInstant).toBe(instantOf(light, "sunset"));
  });

  it("writes the offset of each instant of a day on which it changes", () => {
    const place = { latitude: 52.4, longitude: 13.1 };
    const { events } = findLightWindows({ place, date: "2027-03-28", timeZone: "Europe/Berlin", horizon: FLAT });
    expect(events.map(({ instant }) => instant.slice(-6))).toContain("+01:00");
    expect(events.at(-1)?.instant).toMatch(/\+02:00$/);
  });

  it("cuts direct light at midnight where the zone is not that of the place", () => {
    const light = findLightWindows({ ...spring, timeZone: "Pacific/Auckland" });
    expect(light.directLight.intervals).toMatchObject([
      { startCause: "day-boundary", start: "2027-03-20T00:00:00+13:00", endCause: "horizon" },
      { startCause: "horizon", end: "2027-03-21T00:00:00+13:00", endCause: "day-boundary" },
    ]);
  });

  it("says where a window is cut at midnight and its light goes on", () => {
    const far = { latitude: 68, longitude: 0 };
    const days = ["2027-06-20", "2027-06-21"].map((date) =>
      findLightWindows({ place: far, date, timeZone: "Etc/UTC", horizon: FLAT }),
    ) as [LightWindows, LightWindows];
    const golden = days.map(({ windows }) => windows.filter(({ kind }) => kind === "golden-hour"));
    const [last] = (golden[0] as LightWindow[]).slice(-1);
    const [first] = golden[1] as LightWindow[];
    expect(last?.end).toBe("2027-06-21T00:00:00+00:00");
    expect(last?.intoNextDay).toBe(true);
    expect(first?.start).toBe(last?.end);
    expect(first?.sinceDayBefore).toBe(true);
    // every window is cut where it says so, and nowhere else
    for (const { windows } of [...days, findLightWindows(spring)]) {
      for (const { start, end, sinceDayBefore = false, intoNextDay = false } of windows) {
        expect(sinceDayBefore).toBe(start.includes("T00:00:00"));
        expect(intoNextDay).toBe(end.includes("T00:00:00"));
      }
    }
    expect(days[0].windows.some(({ intoNextDay }) => intoNextDay === undefined)).toBe(true);
  });

  it("knows polar day and night", () => {
    const place = { latitude: 78, longitude: 15 };
    const day = findLightWindows({ ...spring, place, date: "2027-06-21" });
    expect(day.polar).toBe("day");
    expect(names(day).filter((name) => name.startsWith("sun"))).toEqual([]);
    expect(day.directLight.intervals).toMatchObject([
      { start: "2027-06-21T00:00:00+00:00", end: "2027-06-22T00:00:00+00:00" },
    ]);
    const night = findLightWindows({ ...spring, place, date: "2027-12-21" });
    expect(night).toMatchObject({
      polar: "night",
      directLight: { intervals: [], firstInstant: null, lastInstant: null, minutesLostToTerrain: 0 },
    });
    expect(night.windows.map(({ kind }) => kind)).not.toContain("civil-twilight");
  });
});

describe("findLightWindows refuses", () => {
  const refused: [what: string, change: Partial<LightWindowsRequest>, code: string, param: string][] = [
    ["a day that does not exist", { date: "2027-02-30" }, "out-of-range", "date"],
    ["a leap day in 2100", { date: "2100-02-29" }, "out-of-range", "date"],
    ["a day written otherwise", { date: "20.3.2027" }, "out-of-range", "date"],
    ["a year before 1900", { date: "1850-06-01" }, "impossible", "date"],
    ["a year after 2100", { date: "2101-01-01" }, "impossible", "date"],
    ["a day that its zone left out", { date: "2011-12-30", timeZone: "Pacific/Apia" }, "impossible", "date"],
    ["an unknown zone", { timeZone: "Ardvane/Strand" }, "out-of-range", "timeZone"],
    ["a latitude beyond the pole", { place: { latitude: 91, longitude: 0 } }, "out-of-range", "place.latitude"],
    ["a longitude that is none", { place: { latitude: 1, longitude: Number.NaN } }, "out-of-range", "place.longitude"],
    ["an eye in the ground", { place: { ...STRAND, eyeHeightM: -1 } }, "out-of-range", "place.eyeHeightM"],
    ["ground in the sky", { place: { ...STRAND, elevationM: 9001 } }, "out-of-range", "place.elevationM"],
    ["a slope past over", { subject: { facingAzimuthDeg: 3, slopeDeg: 200 } }, "out-of-range", "subject.slopeDeg"],
    ["a facing past the round", { subject: { facingAzimuthDeg: 361 } }, "out-of-range", "subject.facingAzimuthDeg"],
    ["a slope that looks nowhere", { subject: { slopeDeg: 30 } }, "out-of-range", "subject.facingAzimuthDeg"],
    ["half a place", { subject: { latitude: 56 } }, "out-of-range", "subject.longitude"],
    ["bounds the wrong way round", { bounds: { goldenHourDeg: [6, -4] } }, "out-of-range", "bounds.goldenHourDeg"],
    [
      "a profile with an azimuth twice",
      { horizon: { kind: "profile", profile: { azimuthsDeg: [0, 10, 10], altitudesDeg: [0, 1, 2] } } },
      "out-of-range",
      "horizon.profile.azimuthsDeg.2",
    ],
    [
      "a profile with an altitude that is none",
      { horizon: { kind: "profile", profile: { azimuthsDeg: [0, 10], altitudesDeg: [0, Number.NaN] } } },
      "out-of-range",
      "horizon.profile.altitudesDeg.1",
    ],
  ];

  it.each(refused)("%s", (_what, change, code, param) => {
    let error: unknown;
    try {
      findLightWindows({ ...spring, ...change });
    } catch (thrown) {
      error = thrown;
    }
    expect(error).toBeInstanceOf(DomainError);
    expect(error).toMatchObject({ code, param });
  });
});
