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

  it("arrives early enough to walk in, find the spot and set up, and tells each part", () => {
    const parts = plan.arriveByParts.reduce((sum, { minutes }) => sum + minutes, 0);
    expect((ms(plan.moments[0]?.instant) - ms(plan.arriveBy)) / 60_000).toBeCloseTo(parts, 1);
    expect(plan.arriveByParts.map(({ part }) => part)).toEqual(["walk-in", "find-spot", "set-up"]);
    expect(plan.assumptions).toContainEqual(expect.objectContaining({ field: "walkInMinutes", value: 15 }));
    const far = planOuting({ ...evening, walkInMinutes: 90 });
    expect(ms(plan.arriveBy) - ms(far.arriveBy)).toBe(75 * 60_000);
    expect(far.assumptions.map(({ field }) => field)).not.toContain("walkInMinutes");
    expect(ms(plan.stayUntil)).toBeGreaterThanOrEqual(ms(plan.moments.at(-1)?.instant));
  });

  // Common practice: sums of a bag of 3, 6 and 10 stops come within two thirds of a stop of a wanted time
  it("reaches the wanted time at each moment, by the approach's own exposure behind more filters", () => {
    const bag = { ...evening, filters: [3, 6, 10].map((stops) => ({ kind: "nd" as const, stops })) };
    for (const { longExposure, exposure, ev100 } of planOuting(bag).moments) {
      expect(longExposure?.meetsWanted).toBe(true);
      const seconds = longExposure?.corrected?.seconds as number;
      expect(Math.abs(Math.log2(seconds / 32))).toBeLessThan(0.8);
      const { naive, attenuationStops } = longExposure as NonNullable<typeof longExposure>;
      const set = Math.log2(exposure.aperture.exact ** 2 / naive.seconds) - Math.log2(exposure.iso.exact / 100);
      // the sky is held as in the plain frame
      expect(ev100.sky - set - attenuationStops).toBeLessThanOrEqual(3);
    }
  });

  it("says what would reach a wanted time that the bag does not", () => {
    const bare = planOuting({ ...evening, filters: [], targetShutterSeconds: 2 });
    const [first] = bare.moments;
    expect(first?.longExposure?.meetsWanted).toBe(false);
    expect(first?.longExposure?.toReach.map(({ code }) => code)).toContain("filter");
    // when the light has fallen enough without any
    expect(bare.moments.map(({ name }) => name)).toContain("shutter-reached");
    const hour = planOuting({ ...evening, targetShutterSeconds: 3600 });
    for (const { longExposure } of hour.moments) {
      expect(longExposure?.corrected?.seconds ?? 0).toBeLessThanOrEqual(900);
      expect(longExposure?.meetsWanted ?? false).toBe(false);
    }
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
    expect(items).toEqual(expect.arrayContaining(["tripod", "lamp", "neutral-density", "graduated-filter"]));
    // toward the evening sun it does little, and other filters reach the time
    const stacked = plan.moments.some(({ longExposure }) => longExposure?.filters.includes("polarizer"));
    expect(items.includes("polarizer")).toBe(stacked);
  });

  it("sees the skyline in the frame", () => {
    expect(plan.skyline?.skyPercent).toBeGreaterThan(30);
    expect(plan.skyline?.line).not.toBeNull();
  });

  it("says what it assumed, each guess once, and what can hurt", () => {
    const guesses = plan.assumptions.map(({ field, value }) => `${field}=${value}`);
    expect(new Set(guesses).size).toBe(guesses.length);
    expect(guesses).toContain("camera.headroomStops=3");
    expect(plan.cautions.map(({ code }) => code)).toEqual(["sun-through-optics", "dark-paths", "tide-and-swell"]);
  });
});

describe("the caution of dark paths", () => {
  const warns = (date: string, latitude: number, session: OutingRequest["session"]): boolean => {
    const place = { ...evening.place, latitude };
    const { cautions } = planOuting({ ...evening, place, date, session, horizon: { kind: "flat" } });
    expect(cautions[0]?.code).toBe("sun-through-optics");
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
      expect(["bracket", "single-or-bracket"]).toContain(approach.kind);
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

  it("has the low sun on both sides of its lowest point where the sun does not set", () => {
    const north = {
      ...evening,
      place: { latitude: 75, longitude: 20 },
      date: "2027-06-21",
      horizon: { kind: "flat" } as const,
    };
    const plan = planOuting({ ...north, targetShutterSeconds: undefined });
    expect(plan.light.polar).toBe("day");
    expect(plan.moments.map(({ name }) => name)).toEqual(["low-sun-start", "lowest-sun", "low-sun-end"]);
    const [start, lowest, end] = plan.moments as [OutingMoment, OutingMoment, OutingMoment];
    // its lowest is over 6° here: two hours on either side
    expect(ms(lowest.instant) - ms(start.instant)).toBe(2 * 3_600_000);
    expect(ms(end.instant) - ms(lowest.instant)).toBe(2 * 3_600_000);
    expect(plan.verdict.grade).not.toBe("stay-home");
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
      const noon = plan.light.events.find(({ name }) => name === "solar-noon")?.instant;
      // the sun still rises or sinks a little among the stars
      expect(Math.abs(ms(instant) - ms(noon))).toBeLessThan(60_000);
      // 90° − 85° − 23.4°
      expect(sun.trueAltitudeDeg).toBeCloseTo(-18.4, 1);
      // a frame that would take half a day is not advised
      expect(plan.moments[0]?.approach.kind).toBe("beyond-one-set");
      expect(plan.moments[0]?.exposure.shutter.seconds).toBeLessThanOrEqual(900 * 2 ** (1 / 3));
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
      expect(plan.moments.map(({ name }) => name)).toEqual(["low-sun-start", "lowest-sun", "low-sun-end"]);
      expect(plan.moments.some(({ directLight }) => directLight)).toBe(false);
      expect(at(plan, "lowest-sun")?.sun.altitudeDeg).toBeCloseTo(8.4, 0);
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
    [{ walkInMinutes: -5 }, "walkInMinutes"],
    [{ walkInMinutes: 2000 }, "walkInMinutes"],
    [{ scene: "cellar" as "under-trees" }, "scene"],
    [{ camera: { bracketing: { counts: [4] } } }, "camera.bracketing.counts.0"],
    [{ camera: { bracketing: { stepsStops: [0] } } }, "camera.bracketing.stepsStops.0"],
    [{ date: "2027-02-30" }, "date"],
    [{ sky: { cloudCover: { low: 140, middle: 0, high: 0 } } }, "sky.cloudCover.low"],
  ] as const)("refuses %j by name", (bad, param) => {
    expect(() => planOuting({ ...evening, ...bad })).toThrow(expect.objectContaining({ param }));
  });
});

describe("planOuting, nights", () => {
  const night = planOuting({
    ...evening,
    place: { latitude: -24.5, longitude: 15.8, elevationM: 900 },
    date: "2027-03-14",
    timeZone: "Africa/Windhoek",
    horizon: { kind: "flat" },
    camera: { focalLengthMm: 20, aperture: 2.8, iso: 3200, azimuthDeg: 180, pitchDeg: 15 },
    filters: [],
    targetShutterSeconds: undefined,
    session: { from: "2027-03-14T19:00:00+02:00", to: "2027-03-15T02:00:00+02:00" },
  });

  it("name the dusk, and tell moonlight from the dark hours", () => {
    expect(night.moments.map(({ name }) => name)).toContain("astronomical-dusk");
    // a young moon sets in the evening: then it is dark
    expect(at(night, "moonset")).toBeDefined();
    const [dark] = night.night?.darkHours ?? [];
    expect(ms(dark?.start)).toBeGreaterThanOrEqual(ms(at(night, "astronomical-dusk")?.instant) - 1000);
    expect(ms(dark?.start)).toBeGreaterThanOrEqual(ms(at(night, "moonset")?.instant) - 120_000);
  });

  it("keep each frame under the time in which stars draw trails, and say so", () => {
    const longest = night.night?.starTrails.longestSeconds as number;
    // common practice: about 500 over the focal length is the rough limit; three pixels ask for less
    expect(longest).toBeLessThan(500 / 20);
    expect(longest).toBeGreaterThan(500 / 20 / 4);
    const end = at(night, "end") as OutingMoment;
    expect(end.exposure.shutter.seconds).toBeLessThanOrEqual(longest * 2 ** (1 / 3));
    expect(end.approach.reasons.map(({ code }) => code)).toContain("stars-limit-the-time");
  });
});

describe("planOuting, the place", () => {
  const cautions = (more: Partial<OutingRequest>) =>
    planOuting({ ...evening, ...more }).cautions.map(({ code }) => code);
  const ground = { seaWithinM: null, steepestDeg: 5, isFlat: true };

  it("warns of the sea only beside it, of cliffs where the ground is that steep, of mud on flat tidal ground", () => {
    const inland = { ...evening.place, elevationM: 800 };
    expect(cautions({ place: inland })).toEqual(["sun-through-optics", "dark-paths"]);
    expect(cautions({ place: inland, ground: { ...ground, steepestDeg: 40 } })).toContain("steep-ground");
    expect(cautions({ ground: { ...ground, seaWithinM: 60 } })).toEqual(
      expect.arrayContaining(["tide-and-swell", "mud-flats"]),
    );
    const cliff = {
      place: { ...evening.place, elevationM: 110 },
      ground: { seaWithinM: 100, steepestDeg: 50, isFlat: false },
    };
    expect(cautions(cliff)).toEqual(expect.arrayContaining(["cliffs", "wildlife"]));
    expect(cautions(cliff)).not.toContain("tide-and-swell");
  });

  it("packs for cold and heat, and says when the temperature is a guess", () => {
    const items = (sky: OutingRequest["sky"]) => planOuting({ ...evening, sky }).pack.map(({ item }) => item);
    expect(items({ temperatureC: -9 })).toEqual(expect.arrayContaining(["spare-battery", "warm-layer"]));
    expect(items({ temperatureC: 33 })).toContain("water");
    expect(planOuting(evening).assumptions).toContainEqual(expect.objectContaining({ field: "sky.temperatureC" }));
    // ISO 2533: 6.5 °C colder for each 1000 m
    const high = planOuting({ ...evening, place: { ...evening.place, elevationM: 3000 } });
    expect(high.cautions.map(({ code }) => code)).toContain("thin-air");
    expect(high.pack.map(({ item }) => item)).toContain("warm-layer");
  });
});

describe("planOuting, the scene", () => {
  it("asks for more of dark woods than of open ground, and lays no filter across trunks", () => {
    const back = { ...evening, camera: { ...evening.camera, azimuthDeg: 265 }, targetShutterSeconds: undefined };
    const open = at(planOuting(back), "last-direct-light");
    const wood = at(planOuting({ ...back, scene: "interior-looking-out" }), "last-direct-light");
    expect(open?.graduated).toBeDefined();
    expect(wood?.graduated).toBeUndefined();
    expect(wood?.bracket?.count).toBeGreaterThan(open?.bracket?.count ?? 1);
    const crossed = planOuting({ ...back, foreground: { crossesSkyline: true } });
    expect(crossed.moments.every(({ graduated }) => graduated === undefined)).toBe(true);
    expect(at(crossed, "last-direct-light")?.approach.reasons.map(({ code }) => code)).toContain(
      "things-cross-the-skyline",
    );
  });
});

describe("planOuting, the verdict", () => {
  it("says first that it speaks of the geometry where cloud is not known, and stays home under closed low cloud", () => {
    const { verdict } = planOuting(evening);
    expect(verdict.reasons[0]?.code).toBe("weather-not-known");
    expect(verdict.sureness).toBe("unsure");
    const closed = planOuting({ ...evening, sky: { cloudCover: { low: 100, middle: 0, high: 0 } } });
    expect(closed.verdict).toMatchObject({ grade: "stay-home", sureness: "sure" });
    expect(closed.verdict.text).toMatch(/^Stay home: /);
    const fine = planOuting({
      ...evening,
      sky: { cloudCover: { low: 0, middle: 30, high: 40 } },
      horizon: { kind: "flat" },
    });
    expect(fine.verdict.grade).toBe("go");
  });

  it("likes cloud for a frame without sky", () => {
    const camera = { ...evening.camera, focalLengthMm: 50, pitchDeg: -35 };
    const sky = { cloudCover: { low: 100, middle: 0, high: 0 } };
    expect(planOuting({ ...evening, camera, sky }).verdict.grade).toBe("go");
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
