import { describe, expect, it } from "vitest";
import { answer, NOW, post, problem, refusedFields, testApp } from "./harness";

const app = testApp();

interface Setting {
  readonly exact: number;
  readonly nominal: string;
}

interface Solved {
  readonly aperture: Setting;
  readonly shutter: { readonly seconds: number; readonly nominal: string };
  readonly iso: Setting;
  readonly ev100: number;
  readonly attenuationStops: number;
  readonly assumptions: readonly { field: string }[];
  readonly cautions: readonly { code: string }[];
  readonly warnings: readonly { code: string }[];
}

describe("POST /v1/exposures/solve", () => {
  const solve = (body: unknown) => post(app, "/v1/exposures/solve", body);

  it("answers each of the three with its exact value and its mark", async () => {
    const solved = await answer<Solved>(solve({ ev100: 15, aperture: 11, iso: 100 }));
    expect(solved).toMatchObject({
      aperture: { exact: 11.313708499, nominal: "f/11", origin: "mark" },
      shutter: { seconds: 1 / 256, nominal: "1/250 s", origin: "solved" },
      iso: { exact: 100, nominal: "ISO 100" },
      ev100: 15,
      attenuationStops: 0,
      warnings: [],
      cautions: [],
    });
    expect(solved.assumptions).toEqual([expect.objectContaining({ field: "aperture", value: 11.313708499 })]);
  });

  it("takes the light as luminance and as illuminance", async () => {
    expect((await answer<Solved>(solve({ luminanceCdPerM2: 4096, aperture: 16, iso: 100 }))).ev100).toBe(15);
    const lux = await answer<Solved>(solve({ illuminanceLux: 81_920, shutterSeconds: 0.008, iso: 100 }));
    expect(lux.aperture).toMatchObject({ exact: 16, nominal: "f/16" });
    expect(lux.assumptions).toContainEqual(expect.objectContaining({ field: "meterConstantC", value: 250 }));
  });

  it("adds up filters, in any order, and leaves the graduated one to the sky", async () => {
    const filters = [
      { kind: "nd", factor: 1000 },
      { kind: "polarizer" },
      { kind: "graduated", stops: 3, transition: "soft" },
    ];
    const solved = await answer<Solved>(solve({ ev100: 12, aperture: 11, iso: 100, filters }));
    expect(solved.attenuationStops).toBeCloseTo(Math.log2(1000) + 1.5, 6);
    expect(solved.shutter.seconds).toBeCloseTo(2 ** -5 * 1000 * 2 ** 1.5, 6);
    expect(solved.assumptions).toContainEqual(expect.objectContaining({ field: "filters.1.lossStops" }));
    expect(solved.cautions).toEqual([expect.objectContaining({ code: "sun-through-optics" })]);
    expect(solved.warnings).toEqual([expect.objectContaining({ code: "needs-bulb" })]);
    const turned = await answer<Solved>(solve({ ev100: 12, aperture: 11, iso: 100, filters: [...filters].reverse() }));
    expect(turned.shutter).toEqual(solved.shutter);
  });

  it("finds the filter for a video shutter", async () => {
    const { video } = await answer<{ video: unknown }>(
      solve({ ev100: 14, aperture: 4, iso: 100, video: { frameRate: 25 } }),
    );
    expect(video).toEqual({ shutterSeconds: 0.02, attenuationStops: expect.closeTo(4.356, 3), shortfallStops: 0 });
  });

  const good = { ev100: 10, aperture: 8, iso: 100 };
  it.each([
    [{ ...good, aperture: 0 }, "/aperture"],
    [{ ...good, aperture: "NaN" }, "/aperture"],
    [{ ...good, iso: null }, "/iso"],
    [{ ...good, aparture: 8 }, "/aparture"],
    [{ ...good, shutterSeconds: 0.5 }, "/iso"],
    [{ ev100: 10, aperture: 8 }, "/shutterSeconds"],
    [{ aperture: 8, iso: 100 }, "/ev100"],
    [{ ...good, illuminanceLux: 100 }, "/illuminanceLux"],
    [{ ...good, ev100: 41 }, "/ev100"],
    [{ aperture: 8, iso: 100, luminanceCdPerM2: 0 }, "/luminanceCdPerM2"],
    [{ ...good, compensationStops: 99 }, "/compensationStops"],
    [{ ...good, series: "quarter" }, "/series"],
    [{ ...good, filters: [{ kind: "fog" }] }, "/filters/0/kind"],
    [{ ...good, filters: [{ kind: "nd", stops: 3, density: 0.9 }] }, "/filters/0"],
    [{ ...good, filters: [{ kind: "nd", stops: "3" }] }, "/filters/0/stops"],
    [{ ...good, filters: [{ kind: "nd", stops: 3, colour: "grey" }] }, "/filters/0/colour"],
    [{ ...good, video: { frameRate: 0 } }, "/video/frameRate"],
  ])("refuses %j by name", async (body, pointer) => {
    expect(await refusedFields(solve(body))).toContain(pointer);
  });

  it("understands an exposure that no lens has, and has no answer", async () => {
    const { type, errors } = await problem(solve({ ev100: -5, shutterSeconds: 0.001, iso: 100 }), 422);
    expect(type).toBe("/problems/impossible");
    expect(errors?.[0]?.pointer).toBe("/aperture");
    await problem(solve({ ...good, filters: [1, 2, 3].map(() => ({ kind: "nd", stops: 20 })) }), 422);
  });

  it("refuses what is not a JSON object", async () => {
    await problem(solve("{"), 400);
    await problem(solve("[]"), 400);
    await problem(solve('{"ev100":NaN,"aperture":8,"iso":100}'), 400);
  });
});

describe("POST /v1/exposures/equivalents", () => {
  const list = (body: unknown) => post(app, "/v1/exposures/equivalents", body);
  const evening = { ev100: 9, iso: 100, minFNumber: 2.8, maxFNumber: 22, series: "full" };

  it("answers the ladder with what binds each rung", async () => {
    const ladder = await answer<{ rungs: { shutter: { nominal: string }; binding: string; usable: boolean }[] }>(
      list({ ...evening, limits: { handHeldSeconds: 1 / 30, diffractionAperture: 11, depthOfFieldAperture: 5.6 } }),
    );
    expect(ladder.rungs.map(({ shutter }) => shutter.nominal)).toEqual([
      "1/60 s",
      "1/30 s",
      "1/15 s",
      "1/8 s",
      "1/4 s",
      "1/2 s",
      "1 s",
    ]);
    expect(ladder).toMatchObject({ usableCount: 0, isoNeeded: { nominal: "ISO 200" } });
    expect(ladder.rungs[0]).toMatchObject({ binding: "depth-of-field", usable: false, isoNeeded: null });
  });

  it("works out hands and moving things, and counts filters", async () => {
    const ladder = await answer<{ attenuationStops: number; rungs: { limits: { limit: string }[] }[] }>(
      list({
        ...evening,
        filters: [{ kind: "nd", stops: 3 }],
        handHeld: { focalLengthMm: 24, stabilisationStops: 4 },
        subjectMotion: { speedMPerS: 1.5, distanceM: 20, focalLengthMm: 24, pixelPitchUm: 4.3, blurPx: 3 },
      }),
    );
    expect(ladder.attenuationStops).toBe(3);
    expect(ladder.rungs[0]?.limits.map(({ limit }) => limit)).toEqual([
      "hand-held",
      "subject-motion",
      "fastest-shutter",
    ]);
  });

  it.each([
    [{ ...evening, iso: undefined }, "/iso"],
    [{ ...evening, maxFNumber: 2 }, "/maxFNumber"],
    [{ ...evening, limits: { handHeldSeconds: 0 } }, "/limits/handHeldSeconds"],
    [{ ...evening, limits: { wind: 3 } }, "/limits/wind"],
    [{ ...evening, handHeld: { focalLengthMm: "NaN" } }, "/handHeld/focalLengthMm"],
    [{ ...evening, aperture: 8 }, "/aperture"],
  ])("refuses %j by name", async (body, pointer) => {
    expect(await refusedFields(list(body))).toContain(pointer);
  });
});

describe("POST /v1/exposures/long", () => {
  const long = (body: unknown) => post(app, "/v1/exposures/long", body);
  const settings = { aperture: 11, iso: 100, filters: [{ kind: "nd", stops: 10 }] };
  const readings = [
    { instant: "2027-03-20T18:30:00+01:00", ev100: 10 },
    { instant: "2027-03-20T19:30:00+01:00", ev100: -8 },
  ];

  // for light that fades by r stops a second, ∫ L dt = L0·T0 gives T = −log2(1 − r·ln2·T0)/r
  const closedForm = (naive: number, rate: number): number => -Math.log2(1 - rate * Math.LN2 * naive) / rate;

  interface Long {
    readonly naive: { seconds: number; nominal: string };
    readonly corrected: { kind: string; shutter: { seconds: number }; end: string };
    readonly errorStops: number;
    readonly wanted: {
      latestStart: { kind: string; instant: string };
      comesAbout: { kind: string; moments: unknown[] };
    };
    readonly light: { source: string; knownUntil: string; shiftStops: number };
    readonly assumptions: { field: string }[];
  }

  it("answers naive and corrected time, by readings", async () => {
    const found = await answer<Long>(long({ ...settings, readings }));
    expect(found).toMatchObject({
      instant: "2027-03-20T18:30:00+01:00",
      ev100: 10,
      naive: { seconds: 128, nominal: "2 min" },
      corrected: { kind: "reached", end: expect.stringMatching(/^2027-03-20T18:32:.*\+01:00$/) },
      stopsPerMinute: -0.3,
      light: { source: "readings", knownUntil: "2027-03-20T19:30:00+01:00", shiftStops: 0 },
      cautions: [{ code: "sun-through-optics" }],
    });
    expect(found.corrected.shutter.seconds / closedForm(128, 0.3 / 60)).toBeCloseTo(1, 3);
    expect(found.errorStops).toBeLessThan(-0.2);
  });

  it("moves the course of the light to agree with the meter", async () => {
    const found = await answer<Long>(long({ ...settings, readings, ev100: 11 }));
    expect(found.naive.seconds).toBe(64);
    expect(found.light.shiftStops).toBe(1);
    const lux = await answer<Long>(long({ ...settings, readings, illuminanceLux: 5120 }));
    expect(lux.naive.seconds).toBe(64);
    expect(lux.assumptions).toContainEqual(expect.objectContaining({ field: "meterConstantC" }));
  });

  it("is honest where the light does not suffice", async () => {
    const found = await answer(long({ ...settings, readings, ev100: 5 }));
    expect(found["corrected"]).toEqual({
      kind: "not-reached",
      knownUntil: "2027-03-20T19:30:00+01:00",
      gatheredStops: expect.closeTo(Math.log2(60 / (0.3 * Math.LN2) / 4096), 2),
    });
    expect(found["errorStops"]).toBeNull();
  });

  it("adds what film loses", async () => {
    const found = await answer<Long>(long({ ...settings, readings, ev100: 13, reciprocity: { exponent: 1.3 } }));
    expect(found).toMatchObject({ naive: { seconds: 16 }, steadyOnFilm: { seconds: expect.closeTo(16 ** 1.3, 6) } });
    expect(found.corrected.shutter.seconds).toBeGreaterThan(16 ** 1.3);
  });

  it("takes the course of the light from sun and moon at a place", async () => {
    const place = { latitude: 56.6, longitude: -9.4, timeZone: "Etc/UTC" };
    const asked = { ...settings, filters: [{ kind: "nd", stops: 6 }], place, wantedShutterSeconds: 240 };
    const metered = { ...asked, instant: "2027-03-20T19:00:00Z", ev100: 8 };
    const found = await answer<Long & { stopsPerMinute: number }>(long(metered));
    expect(found.light).toMatchObject({ source: "sun-and-moon", knownUntil: "2027-03-20T23:00:00+00:00" });
    // dusk at this latitude loses about a third of a stop a minute
    expect(found.stopsPerMinute).toBeLessThan(-0.1);
    expect(found.stopsPerMinute).toBeGreaterThan(-0.6);
    expect(found.corrected.shutter.seconds).toBeGreaterThan(found.naive.seconds);
    expect(found.assumptions.map(({ field }) => field)).toEqual(["horizon", "cloudCover", "lookAheadMinutes"]);
    const { latestStart, comesAbout } = found.wanted;
    expect(latestStart.kind).toBe("at");
    expect(comesAbout).toEqual({ kind: "crosses", moments: [{ instant: latestStart.instant, direction: "fading" }] });
  });

  it("gives the wanted time as the corrected one from its latest start", async () => {
    const place = { latitude: 56.6, longitude: -9.4, timeZone: "Etc/UTC" };
    const asked = { ...settings, filters: [{ kind: "nd", stops: 6 }], place, wantedShutterSeconds: 240 };
    const found = await answer<Long>(long({ ...asked, instant: "2027-03-20T18:30:00Z" }));
    expect(found.assumptions).toContainEqual(expect.objectContaining({ field: "meteredEv100" }));
    const again = await answer<Long>(long({ ...asked, instant: found.wanted.latestStart.instant }));
    expect(again.corrected.shutter.seconds).toBeCloseTo(240, 0);
  });

  it("names the filters where they ask for a time without end", async () => {
    const dense = [1, 2].map(() => ({ kind: "nd", stops: 19 }));
    const { errors } = await problem(long({ ...settings, readings, filters: dense }), 422);
    expect(errors?.[0]?.pointer).toBe("/filters");
  });

  it("looks to the end of the years that it is held to, and no further", async () => {
    const place = { latitude: 56.6, longitude: -9.4, timeZone: "Etc/UTC" };
    await answer(long({ ...settings, place, ev100: 8, instant: "2100-12-31T18:00:00Z" }));
    await problem(long({ ...settings, place, instant: "2101-01-01T00:00:00Z" }), 422);
  });

  it("takes the present where no instant is given", async () => {
    const found = await answer(long({ ...settings, place: { latitude: 56.6, longitude: -9.4 } }));
    expect(Date.parse(found["instant"] as string)).toBe(Date.parse(NOW));
    expect(found["assumptions"]).toContainEqual(expect.objectContaining({ field: "timeZone" }));
  });

  it("has no answer for readings years apart, which would take memory without end", async () => {
    const apart = [...readings, { instant: "2087-03-01T11:51:51Z", ev100: 5 }];
    const pointer = `/readings/${readings.length}/instant`;
    expect(await refusedFields(long({ ...settings, readings: apart }), 422)).toEqual([pointer]);
  });

  it("understands a start outside the readings, and has no answer", async () => {
    const { errors } = await problem(long({ ...settings, readings, instant: "2027-03-20T20:00:00+01:00" }), 422);
    expect(errors?.[0]).toMatchObject({ pointer: "/instant", received: "2027-03-20T20:00:00+01:00" });
  });

  const [first, second] = readings;
  it.each([
    [{ ...settings }, "/readings"],
    [{ ...settings, readings, place: { latitude: 1, longitude: 1 } }, "/place"],
    [{ ...settings, readings: [first] }, "/readings"],
    [{ ...settings, readings: [second, first] }, "/readings/1/instant"],
    [{ ...settings, readings: [first, { ...second, instant: "later" }] }, "/readings/1/instant"],
    [{ ...settings, readings: [first, { ...second, ev100: "NaN" }] }, "/readings/1/ev100"],
    [{ ...settings, readings, cloudCover: { low: 0, middle: 0, high: 0 } }, "/cloudCover"],
    [{ ...settings, place: { latitude: 91, longitude: 1 } }, "/place/latitude"],
    [
      { ...settings, place: { latitude: 1, longitude: 1 }, cloudCover: { low: 101, middle: 0, high: 0 } },
      "/cloudCover/low",
    ],
    [{ ...settings, readings, aperture: 0 }, "/aperture"],
    [{ ...settings, readings, ev100: 8, illuminanceLux: 5 }, "/illuminanceLux"],
    [{ ...settings, readings, reciprocity: { exponent: 0.5 } }, "/reciprocity/exponent"],
    [{ ...settings, readings, wantedShutterSeconds: 0 }, "/wantedShutterSeconds"],
    [{ ...settings, readings, shutterSeconds: 3 }, "/shutterSeconds"],
  ])("refuses %j by name", async (body, pointer) => {
    expect(await refusedFields(long(body))).toContain(pointer);
  });
});
