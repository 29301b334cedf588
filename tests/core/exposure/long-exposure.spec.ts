import {
  filmEquivalentSeconds,
  type LightCurve,
  lightCurveFromModel,
  lightCurveFromSamples,
  lightGathered,
  shiftLightCurve,
  solveExposure,
  solveLongExposure,
  whenShutterComesAbout,
} from "@fieldstop/core/exposure";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const MINUTE_MS = 60_000;
const START_MS = Date.UTC(2027, 2, 20, 18, 30);

/** Light that falls by a steady number of stops a minute, known for a number of minutes. */
const fading = (ev100: number, stopsPerMinute: number, minutes: number): LightCurve =>
  lightCurveFromSamples([
    { instantMs: START_MS, ev100 },
    { instantMs: START_MS + minutes * MINUTE_MS, ev100: ev100 - stopsPerMinute * minutes },
  ]);

/** For L = L0·2^(−r·t), ∫ L dt = L0·T0 solved for the time: T = −log2(1 − r·ln2·T0)/r. */
const closedForm = (naive: number, stopsPerSecond: number): number =>
  -Math.log2(1 - stopsPerSecond * Math.LN2 * naive) / stopsPerSecond;

const settings = { aperture: 11, iso: 100, attenuationStops: 10 };

const reached = (result: ReturnType<typeof solveLongExposure>): number => {
  if (result.corrected.kind !== "reached") throw new Error(JSON.stringify(result.corrected));
  return result.corrected.shutter.seconds;
};

describe("@examples", () => {
  it("answer as documented", () => {
    const light = fading(10, 0.5, 60);
    expect(
      solveLongExposure({ light, startMs: START_MS, aperture: 11, iso: 100, attenuationStops: 10 }).corrected,
    ).toMatchObject({
      kind: "reached",
    });
    expect(whenShutterComesAbout(light, { aperture: 11, iso: 100, attenuationStops: 6 }, 30)).toMatchObject({
      kind: "crosses",
    });
  });
});

describe("solveLongExposure", () => {
  it("is within 0.1 % of the closed form for exponential decay", () => {
    let count = 0;
    for (const stopsPerMinute of [0.05, 0.2, 0.35, 0.5]) {
      for (const ev100 of [12, 11, 10]) {
        const naive = 2 ** (7 - ev100 + 10);
        const exact = closedForm(naive, stopsPerMinute / 60);
        if (!Number.isFinite(exact)) continue;
        const sampled = solveLongExposure({
          ...settings,
          light: fading(ev100, stopsPerMinute, 90),
          startMs: START_MS,
        });
        expect(sampled.naive.seconds).toBeCloseTo(naive, 6);
        expect(Math.abs(reached(sampled) / exact - 1)).toBeLessThan(1e-6);
        const model = (ms: number): number => ev100 - (stopsPerMinute * (ms - START_MS)) / MINUTE_MS;
        const modelled = lightCurveFromModel(model, START_MS, START_MS + 90 * MINUTE_MS);
        const seconds = reached(solveLongExposure({ ...settings, light: modelled, startMs: START_MS }));
        expect(Math.abs(seconds / exact - 1)).toBeLessThan(1e-3);
        count++;
      }
    }
    expect(count).toBe(12);
  });

  it("reports the error of the naive time in stops, and how fast the light goes", () => {
    const result = solveLongExposure({ ...settings, light: fading(10, 0.3, 60), startMs: START_MS });
    const naive = 128;
    expect(result.naive.seconds).toBeCloseTo(naive, 9);
    expect(result.naive.nominal).toBe("2 min");
    const rate = (0.3 / 60) * Math.LN2;
    expect(result.errorStops).toBeCloseTo(Math.log2((1 - Math.exp(-rate * naive)) / (rate * naive)), 9);
    expect(result.errorStops).toBeLessThan(0);
    expect(result.stopsPerMinute).toBeCloseTo(-0.3, 9);
    expect(reached(result)).toBeGreaterThan(naive);
  });

  it("gathers exactly what was wanted, on any course of the light", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 4, max: 12, noNaN: true }), { minLength: 2, maxLength: 12 }),
        fc.double({ min: 0, max: 9, noNaN: true }),
        (levels, attenuationStops) => {
          const light = lightCurveFromSamples(
            levels.map((ev100, i) => ({ instantMs: START_MS + i * 5 * MINUTE_MS, ev100 })),
          );
          const result = solveLongExposure({ aperture: 8, iso: 100, attenuationStops, light, startMs: START_MS });
          const needed = 64 * 2 ** attenuationStops;
          if (result.corrected.kind === "reached") {
            const { seconds } = result.corrected.shutter;
            expect(Math.abs(lightGathered(light, START_MS, seconds) / needed - 1)).toBeLessThan(1e-6);
          } else {
            const all = lightGathered(light, START_MS, (light.endMs - START_MS) / 1000);
            expect(all).toBeLessThan(needed);
            expect(result.corrected.gatheredStops).toBeCloseTo(Math.log2(all / needed), 9);
          }
        },
      ),
    );
  });

  it("is the plain exposure where the light stands still", () => {
    const light = fading(8, 0, 60);
    const result = solveLongExposure({ ...settings, light, startMs: START_MS, compensationStops: 0.5 });
    const plain = solveExposure({ ev100: 8, ...settings, compensationStops: 0.5 }).shutter.seconds;
    expect(result.naive.seconds).toBeCloseTo(plain, 9);
    expect(reached(result)).toBeCloseTo(plain, 6);
    expect(result.errorStops).toBeCloseTo(0, 9);
  });

  it("moves the curve to agree with the meter", () => {
    const light = fading(9, 0.2, 90);
    const metered = solveLongExposure({ ...settings, light, startMs: START_MS, meteredEv100: 10.5 });
    expect(metered).toMatchObject({ ev100: 10.5, curveShiftStops: 1.5, assumptions: [] });
    const moved = solveLongExposure({ ...settings, light: shiftLightCurve(light, 1.5), startMs: START_MS });
    expect(reached(metered)).toBeCloseTo(reached(moved), 9);
    expect(moved.assumptions).toContainEqual(expect.objectContaining({ field: "meteredEv100" }));
  });

  it("is honest where the light never suffices", () => {
    // at half a stop a minute from EV 6 the light left is L0/(r·ln2), under half of what is needed
    const result = solveLongExposure({ ...settings, light: fading(6, 0.5, 60), startMs: START_MS });
    expect(result.corrected).toEqual({
      kind: "not-reached",
      knownUntilMs: START_MS + 60 * MINUTE_MS,
      gatheredStops: expect.closeTo(Math.log2(60 / (0.5 * Math.LN2) / 2048), 6),
    });
    expect(result.errorStops).toBeCloseTo(Math.log2(60 / (0.5 * Math.LN2) / 2048), 2);
  });

  it("does not guess past the light that it knows", () => {
    const result = solveLongExposure({ ...settings, light: fading(10, 0, 1), startMs: START_MS });
    expect(result.errorStops).toBeNull();
    expect(result.corrected).toMatchObject({
      kind: "not-reached",
      gatheredStops: expect.closeTo(Math.log2(60 / 128), 9),
    });
  });

  it("gives less time where the light grows", () => {
    const dawn = fading(8, -0.4, 60);
    const result = solveLongExposure({ ...settings, light: dawn, startMs: START_MS });
    expect(reached(result)).toBeLessThan(result.naive.seconds);
    expect(result.errorStops).toBeGreaterThan(0);
  });

  it("adds the film's loss of speed, so that the time at its mean level is the time of the power law", () => {
    const film = { exponent: 1.3 };
    const steady = solveLongExposure({ ...settings, light: fading(10, 0, 600), startMs: START_MS, reciprocity: film });
    expect(reached(steady)).toBeCloseTo(128 ** 1.3, 4);
    expect(steady.steadyOnFilm?.seconds).toBeCloseTo(128 ** 1.3, 6);
    expect(steady.errorStops).toBeCloseTo(Math.log2(filmEquivalentSeconds(128, film) / 128), 9);

    const light = fading(11, 0.05, 600);
    const seconds = reached(solveLongExposure({ ...settings, light, startMs: START_MS, reciprocity: film }));
    const mean = lightGathered(light, START_MS, seconds) / seconds;
    // 2^17 is what f/11, ISO 100 and ten stops need, in seconds of EV100 0
    expect((2 ** 17 / mean) ** 1.3 / seconds).toBeCloseTo(1, 6);
    const digital = reached(solveLongExposure({ ...settings, light, startMs: START_MS }));
    expect(seconds).toBeGreaterThan(digital);
  });

  it("finds a film's time on a curve of very many samples", () => {
    const samples = Array.from({ length: 200_000 }, (_, i) => ({ instantMs: START_MS + i * 10, ev100: 10 }));
    const light = lightCurveFromSamples(samples);
    const seconds = reached(
      solveLongExposure({ ...settings, light, startMs: START_MS, reciprocity: { exponent: 1.3 } }),
    );
    expect(seconds).toBeCloseTo(128 ** 1.3, 4);
  });

  it("tells a film that never gets there", () => {
    const result = solveLongExposure({
      ...settings,
      light: fading(9, 0.3, 60),
      startMs: START_MS,
      reciprocity: { exponent: 1.4 },
    });
    expect(result.corrected).toMatchObject({ kind: "not-reached" });
  });
});

describe("a wanted shutter time", () => {
  const wanted = (light: LightCurve, seconds: number) =>
    solveLongExposure({ ...settings, attenuationStops: 6, light, startMs: START_MS, wantedShutterSeconds: seconds })
      .wanted;

  it("has a latest start, from which it is the corrected time", () => {
    const light = fading(10, 0.25, 60);
    const result = wanted(light, 60);
    expect(result?.shutter.seconds).toBe(60);
    if (result?.latestStart.kind !== "at") throw new Error(JSON.stringify(result));
    const { startMs } = result.latestStart;
    expect(startMs).toBeGreaterThan(START_MS);
    expect(result.comesAbout).toEqual({ kind: "crosses", moments: [{ startMs, direction: "fading" }] });
    expect(reached(solveLongExposure({ ...settings, attenuationStops: 6, light, startMs }))).toBeCloseTo(60, 2);
    // closed form: the light at that start gathers 2^13 s over a minute that fades by a quarter of a stop
    const share = (1 - 2 ** -0.25) / (0.25 * Math.LN2);
    const ev = Math.log2(2 ** 13 / (60 * share));
    expect((startMs - START_MS) / MINUTE_MS).toBeCloseTo((10 - ev) / 0.25, 3);
  });

  it("is too late, or lasts as far as the light is known", () => {
    expect(wanted(fading(5, 0.25, 60), 60)?.latestStart).toEqual({ kind: "too-late" });
    expect(wanted(fading(14, 0.05, 60), 60)?.latestStart).toEqual({ kind: "beyond-known" });
    expect(wanted(fading(10, 0.25, 1), 240)).toMatchObject({
      latestStart: { kind: "not-known" },
      comesAbout: { kind: "not-known" },
      errorStops: null,
    });
  });
});

describe("whenShutterComesAbout", () => {
  const evening = lightCurveFromModel(
    (ms) => 12 - 14 / (1 + Math.exp(-(ms - START_MS - 40 * MINUTE_MS) / (8 * MINUTE_MS))),
    START_MS,
    START_MS + 100 * MINUTE_MS,
  );

  it("finds starts from which the wanted time is the corrected one", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 300, noNaN: true }),
        fc.double({ min: 0, max: 10, noNaN: true }),
        (seconds, attenuationStops) => {
          const at = { aperture: 8, iso: 100, attenuationStops };
          const found = whenShutterComesAbout(evening, at, seconds);
          if (found.kind !== "crosses") return;
          expect(found.moments).toHaveLength(1);
          const [moment] = found.moments;
          expect(moment?.direction).toBe("fading");
          const result = solveLongExposure({
            ...at,
            light: evening,
            startMs: moment!.startMs,
            wantedShutterSeconds: seconds,
          });
          expect(Math.abs(reached(result) / result.wanted!.shutter.seconds - 1)).toBeLessThan(1e-3);
        },
      ),
    );
  });

  it("comes later with a weaker filter", () => {
    const start = (attenuationStops: number): number => {
      const found = whenShutterComesAbout(evening, { aperture: 11, iso: 100, attenuationStops }, 30);
      if (found.kind !== "crosses") throw new Error(found.kind);
      return found.moments[0]!.startMs;
    };
    expect(start(3)).toBeGreaterThan(start(6));
    expect(start(6)).toBeGreaterThan(start(9));
  });

  it("finds both ends of a cloud", () => {
    const cloud = lightCurveFromSamples(
      [12, 12, 8, 8, 12, 12].map((ev100, i) => ({ instantMs: START_MS + i * 10 * MINUTE_MS, ev100 })),
    );
    const found = whenShutterComesAbout(cloud, { aperture: 8, iso: 100, attenuationStops: 6 }, 8);
    expect(found).toMatchObject({ kind: "crosses", moments: [{ direction: "fading" }, { direction: "growing" }] });
    const late = whenShutterComesAbout(
      cloud,
      { aperture: 8, iso: 100, attenuationStops: 6 },
      8,
      START_MS + 25 * MINUTE_MS,
    );
    expect(late).toMatchObject({ kind: "crosses", moments: [{ direction: "growing" }] });
  });

  it("says which side the light stays on", () => {
    const at = { aperture: 8, iso: 100 };
    expect(whenShutterComesAbout(evening, at, 0.001)).toEqual({ kind: "always-longer" });
    expect(whenShutterComesAbout(evening, at, 1000)).toEqual({ kind: "always-shorter" });
  });

  it("cannot tell of a time longer than the light is known", () => {
    expect(() => whenShutterComesAbout(evening, { aperture: 8, iso: 100 }, 7000)).toThrow(
      expect.objectContaining({ code: "impossible", param: "wantedShutterSeconds" }),
    );
  });
});

describe("outside the domain", () => {
  const light = fading(10, 0.2, 60);
  it.each([
    ["aperture", "out-of-range", { ...settings, aperture: 0, light, startMs: START_MS }],
    ["iso", "out-of-range", { ...settings, iso: Number.NaN, light, startMs: START_MS }],
    ["attenuationStops", "out-of-range", { ...settings, attenuationStops: 41, light, startMs: START_MS }],
    ["meteredEv100", "out-of-range", { ...settings, meteredEv100: Number.NaN, light, startMs: START_MS }],
    ["wantedShutterSeconds", "out-of-range", { ...settings, wantedShutterSeconds: 0, light, startMs: START_MS }],
    ["reciprocity.exponent", "out-of-range", { ...settings, reciprocity: { exponent: 0.5 }, light, startMs: START_MS }],
    ["startMs", "impossible", { ...settings, light, startMs: START_MS - 1 }],
    ["startMs", "impossible", { ...settings, light, startMs: light.endMs }],
    ["attenuationStops", "impossible", { ...settings, attenuationStops: 40, light, startMs: START_MS }],
  ])("names %s (%s)", (param, code, request) => {
    expect(() => solveLongExposure(request)).toThrow(expect.objectContaining({ name: "DomainError", param, code }));
  });
});
