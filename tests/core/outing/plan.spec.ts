import {
  forecastWords,
  horizonProfileFromPoints,
  type OutingMoment,
  type OutingRequest,
  planOuting,
  polarizerInFrame,
} from "@fieldstop/core";
import { describe, expect, it } from "vitest";

/** The ridge across the bay, as a person with a clinometer would note it down. */
const ridge = horizonProfileFromPoints([
  { azimuthDeg: 0, altitudeDeg: 0 },
  { azimuthDeg: 232, altitudeDeg: 0 },
  { azimuthDeg: 246, altitudeDeg: 4.5 },
  { azimuthDeg: 300, altitudeDeg: 4 },
  { azimuthDeg: 312, altitudeDeg: 0 },
]);

const evening: OutingRequest = {
  place: { name: "Ardvane Strand", latitude: 56.6, longitude: -9.4, elevationM: 2, eyeHeightM: 1.6 },
  date: "2027-03-20",
  timeZone: "Europe/London",
  session: "evening",
  horizon: { kind: "profile", profile: ridge },
  camera: { sensor: "full-frame", focalLengthMm: 24, aperture: 11, iso: 100, azimuthDeg: 290 },
  filters: [{ kind: "nd", stops: 6 }, { kind: "graduated", stops: 3, transition: "soft" }, { kind: "polarizer" }],
  targetShutterSeconds: 30,
};

const ms = (instant: string | undefined): number => Date.parse(instant as string);
const at = (plan: ReturnType<typeof planOuting>, name: string) => plan.moments.find((moment) => moment.name === name);
const event = (plan: ReturnType<typeof planOuting>, name: string) => plan.light.events.find((one) => one.name === name);

describe("planOuting, an evening behind a ridge", () => {
  const plan = planOuting(evening);

  it("names the moments in order of time", () => {
    expect(plan.moments.map(({ name }) => name)).toEqual([
      "hour-before-last-light",
      "last-direct-light",
      "shutter-reached",
      "sunset",
      "blue-hour",
      "civil-dusk",
    ]);
    const instants = plan.moments.map(({ instant }) => ms(instant));
    expect([...instants].sort((a, b) => a - b)).toEqual(instants);
  });

  it("lets the ridge, not the almanac, end the direct light", () => {
    expect(ms(at(plan, "last-direct-light")?.instant)).toBeLessThan(ms(event(plan, "sunset")?.instant) - 20 * 60_000);
    expect(at(plan, "last-direct-light")?.instant).toBe(plan.light.directLight.lastInstant);
    expect(at(plan, "hour-before-last-light")?.directLight).toBe(true);
    expect(at(plan, "sunset")?.directLight).toBe(false);
  });

  it("arrives half an hour before the first moment and stays until the last frame is taken", () => {
    expect(ms(plan.moments[0]?.instant) - ms(plan.arriveBy)).toBe(30 * 60_000);
    expect(ms(plan.stayUntil)).toBeGreaterThanOrEqual(ms(plan.moments.at(-1)?.instant));
  });

  // Common practice: a 6-stop filter and a polarizer, with 3 stops graduated over the sky, bring dusk to about 30 s
  it("brings a dusk exposure to about 30 s, found on the light curve", () => {
    const reached = at(plan, "shutter-reached");
    expect(reached?.longExposure?.filters).toEqual(["6 stops", "polarizer"]);
    const seconds = reached?.longExposure?.corrected?.seconds as number;
    // the mark "30 s" stands for 32 s
    expect(Math.abs(Math.log2(seconds / 32))).toBeLessThan(0.05);
    expect(ms(reached?.instant)).toBeGreaterThan(ms(plan.light.directLight.lastInstant as string));
    expect(ms(reached?.instant)).toBeLessThan(ms(event(plan, "civil-dusk")?.instant));
  });

  it("asks for longer than the snapshot says while the light falls", () => {
    for (const { longExposure, lightStopsPerMinute } of plan.moments) {
      if (longExposure?.corrected == null || lightStopsPerMinute >= 0) continue;
      expect(longExposure.corrected.seconds).toBeGreaterThan(longExposure.naive.seconds);
    }
    expect(at(plan, "civil-dusk")?.lightStopsPerMinute).toBeLessThan(-0.1);
  });

  it("darkens from moment to moment", () => {
    const levels = plan.moments.map(({ illuminanceLux }) => illuminanceLux);
    expect([...levels].sort((a, b) => b - a)).toEqual(levels);
  });

  it("exposes as the settings say: N² / t against the light", () => {
    for (const { exposure } of plan.moments) {
      const ev100 =
        Math.log2(exposure.aperture.exact ** 2 / exposure.shutter.seconds) - Math.log2(exposure.iso.exact / 100);
      expect(ev100).toBeCloseTo(exposure.ev100, 9);
    }
  });

  it("packs what it uses and nothing else", () => {
    const items = plan.pack.map(({ item }) => item);
    expect(items).toEqual(expect.arrayContaining(["tripod", "lamp", "neutral-density", "polarizer", "remote-release"]));
    expect(items).not.toContain("graduated-filter");
  });

  it("sees the skyline in the frame", () => {
    expect(plan.skyline?.skyPercent).toBeGreaterThan(30);
    expect(plan.skyline?.line).not.toBeNull();
  });

  it("says what it assumed, each guess once, and what can hurt", () => {
    const guesses = plan.assumptions.map(({ field, value }) => `${field}=${value}`);
    expect(new Set(guesses).size).toBe(guesses.length);
    expect(guesses).toContain("camera.headroomStops=3");
    expect(plan.cautions.map(({ code }) => code)).toEqual(
      expect.arrayContaining(["sun-through-optics", "dark-paths", "tide-and-swell", "cliffs-and-mud", "wildlife"]),
    );
  });
});

describe("the caution of dark paths", () => {
  const warns = (date: string, latitude: number, session: OutingRequest["session"]): boolean => {
    const place = { ...evening.place, latitude };
    const { cautions } = planOuting({ ...evening, place, date, session, horizon: { kind: "flat" } });
    expect(cautions.length).toBeGreaterThanOrEqual(4);
    return cautions.some(({ code }) => code === "dark-paths");
  };
  const span = (from: string, to: string) => ({ from: `2027-12-21T${from}:00Z`, to: `2027-12-21T${to}:00Z` });

  it.each<[string, boolean, string, number, OutingRequest["session"]]>([
    ["does not come under a midnight sun", false, "2027-06-21", 71, "evening"],
    ["nor on its morning", false, "2027-06-21", 71, "morning"],
    ["nor where the sun sets and it does not get dark", false, "2027-06-21", 66, "evening"],
    ["comes in winter under a polar night", true, "2027-12-21", 71, "evening"],
    ["comes on a winter evening", true, "2027-12-21", 56.6, "evening"],
    ["comes on a winter morning, for the way there", true, "2027-12-21", 56.6, "morning"],
    ["comes on a summer evening where it gets dark", true, "2027-06-21", 56.6, "evening"],
    ["does not come over noon", false, "2027-12-21", 56.6, span("11:30", "13:00")],
    ["comes where it gets dark on the way back", true, "2027-12-21", 56.6, span("13:00", "15:00")],
  ])("%s", (_, expected, date, latitude, session) => {
    expect(warns(date, latitude, session)).toBe(expected);
  });
});

describe("planOuting, elsewhere and otherwise", () => {
  it("brackets or filters where the sensor holds little", () => {
    const narrow = { ...evening, camera: { ...evening.camera, headroomStops: 2, footroomStops: 4 } };
    const kinds = planOuting(narrow).moments.map(({ approach }) => approach.kind);
    expect(kinds.some((kind) => kind !== "single")).toBe(true);
    const bare = planOuting({ ...narrow, filters: [] });
    const bracketed = bare.moments.filter(({ bracket }) => bracket !== undefined);
    expect(bracketed.length).toBeGreaterThan(0);
    for (const { bracket, approach } of bracketed) {
      expect(approach.kind).toBe("bracket");
      expect([3, 5, 7, 9]).toContain(bracket?.count);
    }
    expect(bare.pack.map(({ item }) => item)).toContain("tripod");
  });

  it("waits for the light on the highest cloud there is, and says how likely it is", () => {
    const cloudCover = { low: 5, middle: 40, high: 5 };
    const plan = planOuting({ ...evening, sky: { cloudCover, temperatureC: 6, relativeHumidity: 92 } });
    const lit = plan.light.windows.find(({ kind, part }) => kind === "cloud-lit-middle" && part === "evening");
    expect(at(plan, "cloud-lit-end")?.instant).toBe(lit?.end);
    expect(plan.cloudOutlook?.outlook).toBe("likely");
    expect(plan.dew?.fogRisk).toBe("possible");
    expect(at(planOuting(evening), "cloud-lit-end")).toBeUndefined();
  });

  it("plans a morning backwards", () => {
    const hill = horizonProfileFromPoints([
      { azimuthDeg: 60, altitudeDeg: 0 },
      { azimuthDeg: 90, altitudeDeg: 3 },
      { azimuthDeg: 120, altitudeDeg: 0 },
    ]);
    const horizon = { kind: "profile", profile: hill } as const;
    const plan = planOuting({ ...evening, session: "morning", horizon, targetShutterSeconds: undefined });
    expect(plan.moments.map(({ name }) => name)).toEqual([
      "civil-dawn",
      "blue-hour",
      "sunrise",
      "first-direct-light",
      "hour-after-first-light",
    ]);
    expect(plan.moments.every(({ instant }) => instant.startsWith("2027-03-20"))).toBe(true);
  });

  it("follows a summer evening past midnight", () => {
    const plan = planOuting({
      ...evening,
      place: { latitude: 60, longitude: -9.4 },
      date: "2027-06-01",
      horizon: { kind: "flat" },
    });
    expect(plan.moments.at(-1)?.instant.startsWith("2027-06-02")).toBe(true);
  });

  it("plans a span by its own ends", () => {
    const session = { from: "2027-03-20T17:00:00+00:00", to: "2027-03-20T17:30:00+00:00" };
    const plan = planOuting({ ...evening, session, targetShutterSeconds: undefined });
    expect(plan.moments.map(({ name }) => name)).toEqual(["start", "end"]);
  });

  it("has the lowest sun for its moment where the sun does not set", () => {
    const north = {
      ...evening,
      place: { latitude: 75, longitude: 20 },
      date: "2027-06-21",
      horizon: { kind: "flat" } as const,
    };
    const plan = planOuting({ ...north, targetShutterSeconds: undefined });
    expect(plan.light.polar).toBe("day");
    expect(plan.moments.map(({ name }) => name)).toEqual(["lowest-sun"]);
    expect(plan.moments[0]?.sun.altitudeDeg).toBeGreaterThan(5);
  });

  it("has the highest sun for its moment where neither the sun nor twilight comes", () => {
    const night = {
      ...evening,
      place: { latitude: 85, longitude: 20 },
      date: "2027-12-21",
      horizon: { kind: "flat" } as const,
      targetShutterSeconds: undefined,
    };
    for (const session of ["evening", "morning"] as const) {
      const plan = planOuting({ ...night, session });
      expect(plan.light.polar).toBe("night");
      expect(plan.moments.map(({ name }) => name)).toEqual(["highest-sun"]);
      const [{ instant, sun }] = plan.moments as [OutingMoment];
      expect(instant).toBe(plan.light.events.find(({ name }) => name === "solar-noon")?.instant);
      // 90° − 85° − 23.4°
      expect(sun.trueAltitudeDeg).toBeCloseTo(-18.4, 1);
      // a frame that would take half a day is not waited for
      expect(plan.moments[0]?.exposure.shutter.seconds).toBeGreaterThan(40_000);
      expect(Date.parse(plan.stayUntil)).toBe(Date.parse(instant) + 3_600_000);
    }
  });

  it("has the lowest sun for its moment where the sun does not set and something keeps it off all along", () => {
    const walls = horizonProfileFromPoints([
      { azimuthDeg: 0, altitudeDeg: 60 },
      { azimuthDeg: 180, altitudeDeg: 60 },
    ]);
    const pit = {
      ...evening,
      place: { latitude: 75, longitude: 20 },
      date: "2027-06-21",
      horizon: { kind: "profile", profile: walls } as const,
      targetShutterSeconds: undefined,
    };
    for (const session of ["evening", "morning"] as const) {
      const plan = planOuting({ ...pit, session });
      expect(plan.moments.map(({ name, directLight }) => [name, directLight])).toEqual([["lowest-sun", false]]);
      expect(plan.moments[0]?.sun.altitudeDeg).toBeCloseTo(8.4, 0);
      expect(forecastWords(plan, session).headline).toEqual({ code: "no-direct-light", almanacInstant: null });
    }
  });

  it("gives a subject that faces away from the evening sun no evening light", () => {
    const plan = planOuting({ ...evening, subject: { facingAzimuthDeg: 90, slopeDeg: 90 } });
    expect(at(plan, "last-direct-light")).toBeUndefined();
    expect(plan.light.subjectLight?.intervals.at(-1)?.endCause).toBe("facing");
  });

  it("points a camera without a direction at the sun, and says so", () => {
    const plan = planOuting({ ...evening, camera: {} });
    expect(plan.skyline).toBeNull();
    expect(plan.assumptions).toContainEqual(
      expect.objectContaining({ field: "camera.azimuthDeg", value: "toward the sun" }),
    );
  });

  it.each([
    [{ session: { from: "2027-03-20T17:00:00Z", to: "2027-03-20T16:00:00Z" } }, "session.to"],
    [{ session: { from: "2027-03-20T17:00:00", to: "2027-03-20T18:00:00Z" } }, "session.from"],
    [{ camera: { focalLengthMm: 0 } }, "camera.focalLengthMm"],
    [{ camera: { pitchDeg: 100 } }, "camera.pitchDeg"],
    [{ date: "2027-02-30" }, "date"],
    [{ sky: { cloudCover: { low: 140, middle: 0, high: 0 } } }, "sky.cloudCover.low"],
  ] as const)("refuses %j by name", (bad, param) => {
    expect(() => planOuting({ ...evening, ...bad })).toThrow(expect.objectContaining({ param }));
  });
});

describe("planOuting, the polarizer in the bag", () => {
  const plan = planOuting(evening);

  it("is spoken of at each moment, with the rotation, the darkening and a verdict", () => {
    for (const { polarizer } of plan.moments) {
      if (polarizer === undefined) throw new Error("no polarizer");
      expect(polarizer.rotationDeg).toBeGreaterThanOrEqual(0);
      expect(polarizer.rotationDeg).toBeLessThan(180);
      expect(polarizer.minStops).toBeLessThanOrEqual(polarizer.meanStops);
      expect(polarizer.meanStops).toBeLessThanOrEqual(polarizer.maxStops);
      expect(polarizer.lossStops).toBe(1.5);
      expect(polarizer.verdict.text).not.toBe("");
      const uneven = polarizer.warnings.some(({ code }) => code === "uneven-sky");
      expect(uneven).toBe(polarizer.rangeStops > 1);
    }
  });

  it("does little toward the evening sun, and much square to it", () => {
    const mean = (azimuthDeg: number) =>
      at(planOuting({ ...evening, camera: { ...evening.camera, azimuthDeg } }), "last-direct-light")?.polarizer
        ?.meanStops;
    expect(mean(265)).toBeLessThan(0.4);
    expect(mean(175)).toBeGreaterThan(0.8);
  });

  it("warns of an uneven sky on a wide lens across the sun, and tells it under an overcast that it does nothing", () => {
    const wide = { ...evening.camera, azimuthDeg: 200, focalLengthMm: 16 };
    const uneven = at(planOuting({ ...evening, camera: wide }), "last-direct-light")?.polarizer;
    expect(uneven?.verdict.code).toBe("worth-it-with-care");
    expect(uneven?.warnings.map(({ code }) => code)).toEqual(["uneven-sky"]);
    const cloudCover = { low: 100, middle: 0, high: 0 };
    const overcast = at(planOuting({ ...evening, camera: wide, sky: { cloudCover } }), "last-direct-light")?.polarizer;
    expect(overcast).toMatchObject({ meanStops: 0, rangeStops: 0, verdict: { code: "little-effect" }, warnings: [] });
  });

  it("agrees with a finer grid to a tenth of a stop", () => {
    const { sun, polarizer } = at(plan, "last-direct-light") as (typeof plan.moments)[number];
    const fine = polarizerInFrame({ sun, camera: evening.camera, profile: ridge, filter: { kind: "polarizer" } });
    expect(Math.abs((fine.sky?.maxDarkening.meanStops as number) - (polarizer?.meanStops as number))).toBeLessThan(0.1);
  });

  it("is left out where none is in the bag, or no sky in the frame", () => {
    const without = planOuting({ ...evening, filters: [{ kind: "nd", stops: 6 }] });
    expect(without.moments.every(({ polarizer }) => polarizer === undefined)).toBe(true);
    const down = planOuting({ ...evening, camera: { ...evening.camera, focalLengthMm: 50, pitchDeg: -45 } });
    expect(down.moments.every(({ polarizer }) => polarizer === undefined)).toBe(true);
  });
});
