import { describe, expect, it } from "vitest";
import { answer, NOW, post, problem, refusedFields, testApp } from "./harness";

const app = testApp();

interface Coded {
  readonly code: string;
}
interface Assumed {
  readonly field: string;
  readonly value: unknown;
}
const codes = (list: readonly Coded[]): string[] => list.map(({ code }) => code);

describe("POST /v1/filters/stack", () => {
  const stack = (body: unknown) => post(app, "/v1/filters/stack", body);

  interface Stack {
    readonly attenuationStops: number;
    readonly density: number;
    readonly factor: number;
    readonly shutter?: { seconds: number; nominal: string };
    readonly warnings: Coded[];
    readonly cautions: Coded[];
    readonly assumptions: Assumed[];
  }

  it("adds up filters however they are marked, and gives the time exact and as marked", async () => {
    const filters = [{ kind: "nd", factor: 1000 }, { kind: "nd", density: 0.9 }, { kind: "polarizer" }];
    const found = await answer<Stack>(stack({ filters, baseShutterSeconds: 1 / 128 }));
    expect(found.attenuationStops).toBeCloseTo(Math.log2(1000) + 0.9 * Math.log2(10) + 1.5, 6);
    expect(found.density).toBeCloseTo(3.9 + 1.5 * Math.log10(2), 9);
    expect(found).toMatchObject({
      markedStops: 14.5,
      shutter: { seconds: expect.closeTo((10 ** 3.9 * 2 ** 1.5) / 128, 6), nominal: "2.5 min", origin: "solved" },
      filters: [{ mark: "ND1000", markedStops: 10 }, { mark: "density 0.9", markedStops: 3 }, { mark: "polarizer" }],
    });
    expect(codes(found.warnings)).toEqual(["needs-bulb"]);
    expect(codes(found.cautions)).toEqual(["sun-through-optics"]);
    expect(found.assumptions).toContainEqual(expect.objectContaining({ field: "filters.2.lossStops", value: 1.5 }));
    const turned = await answer<Stack>(stack({ filters: [...filters].reverse(), baseShutterSeconds: 1 / 128 }));
    expect(turned.shutter).toEqual(found.shutter);
  });

  it("multiplies a time as it is, and marks it by the dial", async () => {
    const found = await answer<Stack>(stack({ filters: [{ kind: "nd", stops: 10 }], baseShutterSeconds: 0.008 }));
    expect(found.shutter).toMatchObject({ seconds: 8.192, nominal: "8 s" });
  });

  it("has no shutter time where none is known, and takes nothing without filters", async () => {
    const found = await answer<Stack>(stack({ filters: [] }));
    expect(found).toMatchObject({ attenuationStops: 0, density: 0, factor: 1, transmittancePercent: 100 });
    expect(found).not.toHaveProperty("shutter");
  });

  it("leaves a graduated filter to the sky", async () => {
    const graduated = { kind: "graduated", density: 0.9, transition: "soft" };
    const found = await answer<Stack>(
      stack({ filters: [{ kind: "nd", stops: 6 }, graduated], baseShutterSeconds: 0.5 }),
    );
    expect(found).toMatchObject({
      attenuationStops: 6,
      graduatedStops: expect.closeTo(2.9897, 4),
      skyAttenuationStops: expect.closeTo(8.9897, 4),
      shutter: { seconds: 32, nominal: "30 s" },
    });
  });

  it("warns of what the camera cannot do", async () => {
    const filters = [{ kind: "nd", stops: 10 }, { kind: "polarizer" }, { kind: "polarizer" }];
    const found = await answer<Stack>(
      stack({ filters, ev100: 6, aperture: 11, iso: 100, focalLengthMm: 18, cropFactor: 1.5 }),
    );
    expect(codes(found.warnings)).toEqual(["needs-bulb", "past-metering-range", "wide-lens-stack", "two-polarizers"]);
  });

  const nd = { kind: "nd", stops: 3 };
  it.each([
    [{}, "/filters"],
    [{ filters: [{ kind: "nd", density: 0.9, factor: 8 }] }, "/filters/0"],
    [{ filters: [{ kind: "nd" }] }, "/filters/0"],
    [{ filters: [nd, { kind: "nd", stops: -1 }] }, "/filters/1/stops"],
    [{ filters: [{ kind: "nd", transmittancePercent: 0 }] }, "/filters/0/transmittancePercent"],
    [{ filters: [{ kind: "graduated", stops: 2 }] }, "/filters/0/transition"],
    [{ filters: [{ kind: "polarizer", stops: 2 }] }, "/filters/0/stops"],
    [{ filters: Array.from({ length: 11 }, () => nd) }, "/filters"],
    [{ filters: [nd], baseShutterSeconds: 0 }, "/baseShutterSeconds"],
    [{ filters: [nd], baseShutterSeconds: "1/125" }, "/baseShutterSeconds"],
    [{ filters: [nd], aperture: 0, iso: 100, ev100: 10 }, "/aperture"],
    [{ filters: [nd], aperture: 8 }, "/iso"],
    [{ filters: [nd], shutterSeconds: 1 }, "/shutterSeconds"],
  ])("refuses %j by name", async (body, pointer) => {
    expect(await refusedFields(stack(body))).toContain(pointer);
  });

  it("understands a stack that lets nothing through, and has no answer", async () => {
    const dense = { kind: "nd", stops: 20 };
    expect(await refusedFields(stack({ filters: [dense, dense, nd] }), 422)).toEqual(["/filters"]);
    expect(await refusedFields(stack({ filters: [dense, nd], baseShutterSeconds: 30 }), 422)).toEqual(["/filters"]);
  });
});

describe("POST /v1/filters/select", () => {
  const select = (body: unknown) => post(app, "/v1/filters/select", body);
  const kit = [3, 6, 10].map((stops) => ({ kind: "nd", stops }));
  const settings = { aperture: 11, iso: 100 };
  const strand = { latitude: 56.6, longitude: -9.4, timeZone: "Etc/UTC" };

  interface Choice {
    readonly filters: number[];
    readonly marks: string[];
    readonly errorStops: number;
    readonly meets: boolean;
    readonly moments?: { kind: string; moments: { instant: string; direction: string }[] };
    readonly windows?: { start: string; end: string; minutes: number }[];
  }
  interface Selection {
    readonly choices: Choice[];
    readonly consideredCount: number;
    readonly meetingCount: number;
    readonly light?: { source: string; instant: string; knownFrom: string; knownUntil: string };
    readonly assumptions: Assumed[];
  }

  it("ranks the combinations of a kit", async () => {
    const found = await answer<Selection>(
      select({ filters: kit, baseShutterSeconds: 1 / 15, wantedShutterSeconds: 30 }),
    );
    expect(found.choices[0]).toMatchObject({
      filters: [0, 1],
      marks: ["3 stops", "6 stops"],
      attenuationStops: 9,
      shutter: { seconds: 32, nominal: "30 s" },
      errorStops: 0,
      meets: true,
      warnings: [],
    });
    expect(found.choices[1]).toMatchObject({ marks: ["10 stops"], errorStops: 1, meets: false });
    expect(found).toMatchObject({ consideredCount: 8, meetingCount: 1, leftOut: [] });
    expect(found).not.toHaveProperty("light");
    expect(found.choices[0]).not.toHaveProperty("windows");
  });

  it("takes a range, and leaves graduated filters out", async () => {
    const filters = [...kit, { kind: "graduated", stops: 2, transition: "hard" }];
    const found = await answer<Selection>(
      select({ filters, ev100: 12, ...settings, wantedRangeSeconds: { min: 0.5, max: 4 } }),
    );
    expect(found).toMatchObject({ leftOut: [{ filter: 3, reason: "graduated" }], toleranceStops: 0 });
    expect(found.choices.filter(({ meets }) => meets).map(({ marks }) => marks)).toEqual(
      [["6 stops"], ["3 stops"]].slice(0, found.meetingCount),
    );
  });

  it("says when in the evening each combination does, by sun and moon at a place", async () => {
    const found = await answer<Selection>(
      select({ filters: kit, ...settings, place: strand, date: "2027-03-20", wantedShutterSeconds: 30 }),
    );
    expect(found.light).toMatchObject({
      source: "sun-and-moon",
      knownFrom: "2027-03-20T00:00:00+00:00",
      knownUntil: "2027-03-21T00:00:00+00:00",
    });
    // sunset on the equinox, at 9.4° west: a little past 18:40 UTC
    expect(found.light?.instant).toMatch(/^2027-03-20T18:(4|5)\d:/);
    expect(found.assumptions.map(({ field }) => field)).toEqual(
      expect.arrayContaining(["instant", "horizon", "cloudCover"]),
    );
    const six = found.choices.find(({ marks }) => marks.join() === "6 stops");
    expect(six?.moments?.moments.map(({ direction }) => direction)).toEqual(["growing", "fading"]);
    expect(six?.windows).toHaveLength(2);
    const [, dusk] = six?.windows ?? [];
    const at = six?.moments?.moments[1]?.instant as string;
    expect(Date.parse(at)).toBeGreaterThan(Date.parse(dusk?.start as string));
    expect(Date.parse(at)).toBeLessThan(Date.parse(dusk?.end as string));
    expect(dusk?.minutes).toBeCloseTo(
      (Date.parse(dusk?.end as string) - Date.parse(dusk?.start as string)) / 60_000,
      1,
    );
    // the more filters, the earlier
    const ten = found.choices.find(({ marks }) => marks.join() === "10 stops");
    expect(Date.parse(ten?.moments?.moments[1]?.instant as string)).toBeLessThan(Date.parse(at));
  });

  it("gives the instant at which the long exposure is the wanted time", async () => {
    const found = await answer<Selection>(
      select({ filters: kit, ...settings, place: strand, date: "2027-03-20", wantedShutterSeconds: 30 }),
    );
    const six = found.choices.find(({ marks }) => marks.join() === "6 stops");
    const instant = six?.moments?.moments[1]?.instant;
    const long = await answer<{ corrected: { shutter: { seconds: number } } }>(
      post(app, "/v1/exposures/long", { ...settings, filters: [kit[1]], place: strand, instant }),
    );
    expect(long.corrected.shutter.seconds).toBeCloseTo(32, 1);
  });

  it("looks ahead from now at a place, and moves the light to agree with the meter", async () => {
    const asked = { filters: kit, ...settings, place: strand, wantedShutterSeconds: 30 };
    const found = await answer<Selection & { ev100: number }>(select(asked));
    expect(Date.parse(found.light?.instant as string)).toBe(Date.parse(NOW));
    expect(found.light?.knownUntil).toBe("2027-03-20T21:00:00+00:00");
    const metered = await answer<Selection & { ev100: number }>(select({ ...asked, ev100: found.ev100 - 2 }));
    expect(metered.ev100).toBeCloseTo(found.ev100 - 2, 9);
    const startOf = ({ choices }: Selection): number =>
      Date.parse(choices.find(({ marks }) => marks.join() === "6 stops")?.moments?.moments[0]?.instant as string);
    expect(startOf(metered)).toBeLessThan(startOf(found));
  });

  it("takes the light by readings, written with their offset", async () => {
    const readings = [
      { instant: "2027-03-20T18:30:00+01:00", ev100: 10 },
      { instant: "2027-03-20T19:30:00+01:00", ev100: -8 },
    ];
    const found = await answer<Selection>(select({ filters: kit, ...settings, readings, wantedShutterSeconds: 30 }));
    expect(found.light).toEqual({
      source: "readings",
      instant: "2027-03-20T18:30:00+01:00",
      knownFrom: "2027-03-20T18:30:00+01:00",
      knownUntil: "2027-03-20T19:30:00+01:00",
    });
    const six = found.choices.find(({ marks }) => marks.join() === "6 stops");
    expect(six?.windows?.[0]?.start).toMatch(/^2027-03-20T18:\d\d:\d\d(\.\d+)?\+01:00$/);
  });

  it("knows days of 23 and 25 hours, polar days, and the last day of its years", async () => {
    const day = (latitude: number, longitude: number, timeZone: string, date: string) =>
      answer<Selection>(
        select({
          filters: kit,
          ...settings,
          place: { latitude, longitude, timeZone },
          date,
          wantedShutterSeconds: 30,
        }),
      );
    const hours = ({ light }: Selection): number =>
      (Date.parse(light?.knownUntil as string) - Date.parse(light?.knownFrom as string)) / 3_600_000;
    expect(hours(await day(56.6, -9.4, "Europe/London", "2027-03-28"))).toBe(23);
    expect(hours(await day(56.6, -9.4, "Europe/London", "2027-10-31"))).toBe(25);
    expect((await day(80, 20, "Etc/UTC", "2027-06-21")).assumptions).toContainEqual(
      expect.objectContaining({ field: "instant", why: expect.stringContaining("solar noon") }),
    );
    expect(hours(await day(56.6, -9.4, "Etc/UTC", "2100-12-31"))).toBe(24);
  });

  const good = { filters: kit, baseShutterSeconds: 0.5, wantedShutterSeconds: 30 };
  const lit = { filters: kit, ...settings, place: strand, wantedShutterSeconds: 30 };
  it.each([
    [{ ...good, filters: Array.from({ length: 40 }, () => kit[0]) }, "/filters"],
    [{ ...good, filters: [] }, "/filters"],
    [{ ...good, filters: [{ kind: "nd", density: 0.9, factor: 8 }] }, "/filters/0"],
    [{ ...good, wantedShutterSeconds: undefined }, "/wantedShutterSeconds"],
    [{ ...good, wantedRangeSeconds: { min: 1, max: 2 } }, "/wantedShutterSeconds"],
    [{ ...good, wantedShutterSeconds: 0 }, "/wantedShutterSeconds"],
    [{ filters: kit, baseShutterSeconds: 1, wantedRangeSeconds: { min: 4, max: 2 } }, "/wantedRangeSeconds/min"],
    [{ filters: kit, wantedShutterSeconds: 30 }, "/baseShutterSeconds"],
    [{ ...good, maxStacked: 5 }, "/maxStacked"],
    [{ ...good, maxChoices: 1.5 }, "/maxChoices"],
    [{ ...good, toleranceStops: -1 }, "/toleranceStops"],
    [{ ...good, instant: "2027-03-20T18:00:00Z" }, "/instant"],
    [{ ...good, date: "2027-03-20" }, "/date"],
    [{ ...lit, iso: undefined }, "/iso"],
    [{ ...lit, aperture: 0 }, "/aperture"],
    [{ ...lit, date: "2027-02-30" }, "/date"],
    [{ ...lit, date: "2027-03-20", instant: "2027-03-22T12:00:00Z" }, "/instant"],
    [{ ...lit, date: "2027-03-20", lookAheadMinutes: 60 }, "/lookAheadMinutes"],
    [
      {
        ...lit,
        readings: [
          { instant: NOW, ev100: 8 },
          { instant: "2027-03-20T18:00:00Z", ev100: 7 },
        ],
      },
      "/place",
    ],
    [{ ...lit, place: { ...strand, latitude: 91 } }, "/place/latitude"],
    [{ ...lit, camera: {} }, "/camera"],
  ])("refuses %j by name", async (body, pointer) => {
    expect(await refusedFields(select(body))).toContain(pointer);
  });

  it("says how large a kit may be", async () => {
    const { errors } = await problem(select({ ...good, filters: Array.from({ length: 40 }, () => kit[0]) }), 400);
    expect(errors?.[0]?.allowed).toContain("12");
  });

  it("understands a time that is longer than the light is known, and has no answer", async () => {
    const { errors } = await problem(select({ ...lit, lookAheadMinutes: 10, wantedShutterSeconds: 1200 }), 422);
    expect(errors?.[0]?.pointer).toBe("/wantedShutterSeconds");
  });
});
