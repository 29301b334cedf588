import { exposureValue, solveExposure } from "@fieldstop/core/exposure";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

describe("@examples", () => {
  it("answer as documented", () => {
    expect(solveExposure({ ev100: 15, aperture: 16, iso: 100 }).shutter.nominal).toBe("1/125 s");
  });
});

describe("solveExposure", () => {
  it("gives the shutter time, exact and as marked", () => {
    expect(solveExposure({ ev100: 12, aperture: 11, iso: 100, attenuationStops: 10 })).toEqual({
      aperture: { exact: 2 ** 3.5, nominal: "f/11", nominalValue: 11, offsetStops: 0, origin: "mark" },
      shutter: {
        seconds: expect.closeTo(32, 9),
        nominal: "30 s",
        nominalSeconds: 30,
        offsetStops: expect.closeTo(0, 9),
        origin: "solved",
      },
      iso: { exact: 100, nominal: "ISO 100", nominalValue: 100, offsetStops: 0, origin: "mark" },
      solvedFor: "shutter",
      ev100: 12,
      settingsEv100: 2,
      compensationStops: 0,
      attenuationStops: 10,
      warnings: [],
      assumptions: [{ field: "aperture", value: 2 ** 3.5, why: "read as the mark f/11" }],
    });
  });

  it("gives the aperture and the ISO", () => {
    expect(solveExposure({ ev100: 15, shutterSeconds: 0.008, iso: 100 }).aperture).toMatchObject({
      exact: 16,
      nominal: "f/16",
      origin: "solved",
    });
    expect(solveExposure({ ev100: 8, aperture: 8, shutterSeconds: 1 / 60 }).iso).toMatchObject({
      exact: 1600,
      nominal: "ISO 1600",
      origin: "solved",
    });
  });

  it("brightens with compensation and lengthens with filters", () => {
    const base = solveExposure({ ev100: 10, aperture: 8, iso: 100 }).shutter.seconds;
    expect(solveExposure({ ev100: 10, aperture: 8, iso: 100, compensationStops: 2 }).shutter.seconds).toBe(base * 4);
    expect(solveExposure({ ev100: 10, aperture: 8, iso: 100, attenuationStops: 6 }).shutter.seconds).toBe(base * 64);
  });

  it("takes the light as luminance or illuminance", () => {
    expect(solveExposure({ luminanceCdPerM2: 4096, aperture: 16, iso: 100 })).toMatchObject({ ev100: 15 });
    const { ev100, assumptions } = solveExposure({ illuminanceLux: 81920, aperture: 16, iso: 100 });
    expect(ev100).toBe(15);
    expect(assumptions).toContainEqual(expect.objectContaining({ field: "meterConstantC", value: 250 }));
  });

  it("writes marks in the series asked for", () => {
    const halves = solveExposure({ ev100: 10.5, aperture: 8, iso: 100, series: "half" });
    expect(halves.shutter).toMatchObject({ nominal: "1/20 s", seconds: expect.closeTo(2 ** -4.5, 12) });
    const full = solveExposure({ ev100: 5, aperture: 5.6, iso: 100, series: "full" });
    expect(full.shutter.nominal).toBe("1 s");
  });

  it("takes every number for what it says where that is asked for", () => {
    const { aperture, iso, assumptions } = solveExposure({ ev100: 15, aperture: 11, iso: 1250, readAs: "values" });
    expect(aperture).toMatchObject({ exact: 11, nominal: "f/11", origin: "value" });
    expect(iso).toMatchObject({ exact: 1250, nominal: "ISO 1250", origin: "value" });
    expect(assumptions).toEqual([]);
  });

  it("finds the filter that holds a video shutter", () => {
    const { video } = solveExposure({ ev100: 14, aperture: 4, iso: 100, video: { frameRate: 25 } });
    expect(video).toEqual({
      shutterSeconds: 0.02,
      attenuationStops: expect.closeTo(Math.log2(0.02 * 1024), 9),
      shortfallStops: 0,
    });
    const half = solveExposure({ ev100: 14, aperture: 4, iso: 100, video: { frameRate: 25, shutterAngleDeg: 90 } });
    expect(half.video?.attenuationStops).toBeCloseTo((video?.attenuationStops ?? 0) - 1, 9);
  });

  it("says when the time is past the dial", () => {
    const code = (ev100: number): unknown[] =>
      solveExposure({ ev100, aperture: 8, iso: 100 }).warnings.map((warning) => warning.code);
    expect(code(0)).toEqual(["needs-bulb"]);
    expect(code(1)).toEqual([]);
    expect(code(19)).toEqual([]);
    expect(code(20)).toEqual(["faster-than-shutter"]);
  });

  it("agrees with itself whichever of the three is asked for", () => {
    const typed = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(typed(0, 13), typed(1, 32), typed(50, 1600), typed(-2, 2), typed(0, 10), (ev100, n, s, c, a) => {
        const common = { ev100, compensationStops: c, attenuationStops: a };
        const first = solveExposure({ ...common, aperture: n, iso: s });
        const { aperture, shutter, iso } = first;
        expect(exposureValue(aperture.exact, shutter.seconds)).toBeCloseTo(
          first.settingsEv100 + Math.log2(iso.exact / 100),
          9,
        );
        const again = { ...common, readAs: "values", shutterSeconds: shutter.seconds } as const;
        expect(solveExposure({ ...again, iso: iso.exact }).aperture.exact / aperture.exact).toBeCloseTo(1, 9);
        expect(solveExposure({ ...again, aperture: aperture.exact }).iso.exact / iso.exact).toBeCloseTo(1, 9);
      }),
    );
  });

  it("darker light never asks for a shorter time", () => {
    const ev = fc.double({ min: -10, max: 18, noNaN: true });
    fc.assert(
      fc.property(ev, ev, (a, b) => {
        const seconds = (ev100: number): number => solveExposure({ ev100, aperture: 8, iso: 200 }).shutter.seconds;
        expect(seconds(Math.min(a, b))).toBeGreaterThanOrEqual(seconds(Math.max(a, b)));
      }),
    );
  });
});

describe("outside the domain", () => {
  it.each([
    ["iso", { ev100: 10, aperture: 8, shutterSeconds: 1, iso: 100 }],
    ["shutterSeconds", { ev100: 10, aperture: 8 }],
    ["aperture", { ev100: 10, iso: 100 }],
    ["aperture", { ev100: 10 }],
    ["aperture", { ev100: 10, aperture: 0, iso: 100 }],
    ["iso", { ev100: 10, aperture: 8, iso: Number.NaN }],
    ["shutterSeconds", { ev100: 10, aperture: 8, shutterSeconds: -1 }],
    ["ev100", { aperture: 8, iso: 100 }],
    ["ev100", { ev100: 99, aperture: 8, iso: 100 }],
    ["compensationStops", { ev100: 10, aperture: 8, iso: 100, compensationStops: 16 }],
    ["attenuationStops", { ev100: 10, aperture: 8, iso: 100, attenuationStops: -1 }],
    ["video", { ev100: 10, aperture: 8, shutterSeconds: 1, video: { frameRate: 25 } }],
    ["video.frameRate", { ev100: 10, aperture: 8, iso: 100, video: { frameRate: 0 } }],
  ])("names %s", (param, request) => {
    expect(() => solveExposure(request)).toThrow(
      expect.objectContaining({ name: "DomainError", param, code: "out-of-range" }),
    );
  });

  it.each([
    ["aperture", { ev100: -5, shutterSeconds: 0.001, iso: 100 }],
    ["aperture", { ev100: 20, shutterSeconds: 30, iso: 6400 }],
    ["iso", { ev100: 20, aperture: 1, shutterSeconds: 3000 }],
    ["shutterSeconds", { ev100: -30, aperture: 64, iso: 100 }],
  ])("says that there is no such %s", (param, request) => {
    expect(() => solveExposure(request)).toThrow(expect.objectContaining({ param, code: "impossible" }));
  });
});
