import { horizonProfileFromPoints, type OutingPlan, type OutingRequest, planOuting } from "@fieldstop/core";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { thorough } from "../../thorough";

const DRAWS = thorough ? 20_000 : 400;

const places = fc.record({
  latitude: fc.double({ min: -80, max: 80, noNaN: true }),
  longitude: fc.double({ min: -180, max: 180, noNaN: true }),
  elevationM: fc.integer({ min: 0, max: 4000 }),
});
const horizons = fc.oneof(
  fc.constant({ kind: "flat" as const }),
  fc.array(fc.double({ min: -1, max: 30, noNaN: true }), { minLength: 4, maxLength: 12 }).map((altitudes) => ({
    kind: "profile" as const,
    profile: horizonProfileFromPoints(
      altitudes.map((altitudeDeg, i) => ({ azimuthDeg: (360 * i) / altitudes.length, altitudeDeg })),
    ),
  })),
);
const filters = fc.array(
  fc.oneof(
    fc.record({ kind: fc.constant("nd" as const), stops: fc.constantFrom(3, 6, 10) }),
    fc.record({
      kind: fc.constant("graduated" as const),
      stops: fc.constantFrom(1, 2, 3, 4),
      transition: fc.constantFrom("hard" as const, "medium" as const, "soft" as const, "reverse" as const),
    }),
    fc.constant({ kind: "polarizer" as const }),
  ),
  { maxLength: 5 },
);
const days = fc.date({ min: new Date("2026-01-01"), max: new Date("2028-12-30"), noInvalidDate: true });
const requests: fc.Arbitrary<OutingRequest> = fc
  .record({
    place: places,
    horizon: horizons,
    filters,
    day: days,
    session: fc.oneof(fc.constantFrom("evening" as const, "morning" as const), fc.integer({ min: 5, max: 1440 })),
    startHour: fc.integer({ min: 0, max: 23 }),
    camera: fc.record({
      focalLengthMm: fc.constantFrom(14, 24, 50, 200),
      aperture: fc.constantFrom(2.8, 8, 11, 22),
      iso: fc.constantFrom(100, 1600),
      azimuthDeg: fc.integer({ min: 0, max: 359 }),
      pitchDeg: fc.integer({ min: -30, max: 30 }),
    }),
    scene: fc.constantFrom("open-ground", "shaded-side", "under-trees", "interior-looking-out"),
    targetShutterSeconds: fc.option(fc.constantFrom(0.5, 8, 30, 300), { nil: undefined }),
    walkInMinutes: fc.option(fc.integer({ min: 0, max: 720 }), { nil: undefined }),
    cloud: fc.option(fc.integer({ min: 0, max: 100 }), { nil: undefined }),
  })
  .map(({ day, session, startHour, cloud, ...rest }) => {
    const date = day.toISOString().slice(0, 10);
    const fromMs = Date.parse(`${date}T00:00:00Z`) + startHour * 3_600_000;
    const span = (minutes: number) => ({
      from: new Date(fromMs).toISOString(),
      to: new Date(fromMs + minutes * 60_000).toISOString(),
    });
    return {
      ...rest,
      date,
      timeZone: "Etc/UTC",
      session: typeof session === "number" ? span(session) : session,
      ...(cloud === undefined ? {} : { sky: { cloudCover: { low: cloud, middle: 20, high: 40 } } }),
    };
  });

const ms = (instant: string): number => Date.parse(instant);

describe("any plan", () => {
  it("holds what it says it holds, within its own time, by times that someone would expose", () => {
    fc.assert(
      fc.property(requests, (request) => {
        const plan = planOuting(request);
        insideItsSession(plan);
        for (const moment of plan.moments) {
          const { approach, exposure, bracket, graduated, longExposure, ev100, uncertaintyStops } = moment;
          const skyEv100 = ev100.sky - (graduated?.stops ?? 0);
          const hasSky = moment.tones.some(({ name }) => name === "mean-sky");
          const darkest = exposure.ev100 + Math.max(0, ...(bracket?.frames ?? []).map(({ biasStops }) => -biasStops));
          // nothing clips that is called held
          if (hasSky) expect(skyEv100 - darkest).toBeLessThanOrEqual(3 + 1e-6);
          if (longExposure !== undefined && hasSky) {
            const set =
              Math.log2(exposure.aperture.exact ** 2 / longExposure.naive.seconds) -
              Math.log2(exposure.iso.exact / 100);
            expect(skyEv100 - set - longExposure.attenuationStops).toBeLessThanOrEqual(3 + 1e-6);
          }
          if (approach.kind === "single") {
            expect(approach.marginStops).toBeGreaterThanOrEqual(uncertaintyStops);
            expect(bracket).toBeUndefined();
          }
          if (graduated !== undefined)
            expect(moment.contrastStops - graduated.stops).toBeGreaterThanOrEqual(0.5 - 1e-6);
          expect(approach.kind.startsWith("graduated") && graduated === undefined).toBe(false);
          if (bracket !== undefined) {
            expect([3, 5, 7, 9]).toContain(bracket.count);
            expect([1, 2]).toContain(bracket.stepStops);
          }
          const times = [
            exposure.shutter.seconds,
            longExposure?.naive.seconds ?? 0,
            longExposure?.corrected?.seconds ?? 0,
            ...(bracket?.frames ?? []).map(({ shutterSeconds }) => shutterSeconds),
          ];
          // a third of a stop is what rounding to a mark may add
          expect(Math.max(...times)).toBeLessThanOrEqual(900 * 2 ** (1 / 3));
        }
      }),
      { numRuns: DRAWS },
    );
  });
});

function insideItsSession({ arriveBy, stayUntil, moments }: OutingPlan): void {
  const instants = moments.map(({ instant }) => ms(instant));
  expect(moments.length).toBeGreaterThan(0);
  expect([...instants].sort((a, b) => a - b)).toEqual(instants);
  expect(ms(arriveBy)).toBeLessThanOrEqual(instants[0] as number);
  expect(ms(stayUntil)).toBeGreaterThanOrEqual(instants.at(-1) as number);
}

describe("a day from minute to minute", () => {
  const STEP_MINUTES = thorough ? 1 : 5;
  // latitude, the way the camera looks
  it.each([
    [-0.6, 270],
    [38.6, 270],
    [46.5, 200],
    [56.6, 290],
    [60, 330],
    [69.6, 0],
  ])("changes its advice only as the light does (latitude %d)", (latitude, azimuthDeg) => {
    for (const bag of [[], [{ kind: "graduated" as const, stops: 3, transition: "soft" as const }]]) {
      const kinds: { kind: string; minutes: number }[] = [];
      const startMs = Date.UTC(2027, 5, 21);
      for (let minute = 0; minute < 1440; minute += STEP_MINUTES) {
        const from = new Date(startMs + minute * 60_000).toISOString();
        const to = new Date(startMs + (minute + 1) * 60_000).toISOString();
        const { moments } = planOuting({
          place: { latitude, longitude: 0 },
          date: "2027-06-21",
          timeZone: "Etc/UTC",
          session: { from, to },
          horizon: { kind: "flat" },
          camera: { focalLengthMm: 24, azimuthDeg },
          filters: bag,
        });
        const kind = moments[0]?.approach.kind as string;
        const last = kinds.at(-1);
        if (last?.kind === kind) last.minutes += STEP_MINUTES;
        else kinds.push({ kind, minutes: STEP_MINUTES });
      }
      // night, dawn, the sun in or beside the frame, day and back: each kind comes in its turn and stays
      expect(kinds.length).toBeLessThanOrEqual(12);
      // none flickers: what comes between two of a kind stays for a while
      for (let i = 2; i < kinds.length; i++) {
        if (kinds[i]?.kind === kinds[i - 2]?.kind) expect(kinds[i - 1]?.minutes).toBeGreaterThanOrEqual(15);
      }
    }
  });
});
