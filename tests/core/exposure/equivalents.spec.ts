import { exposureValue, listEquivalents } from "@fieldstop/core/exposure";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

describe("@examples", () => {
  it("answer as documented", () => {
    const { rungs } = listEquivalents({ ev100: 15, iso: 100, minFNumber: 8, maxFNumber: 16, series: "full" });
    expect(rungs.map((rung) => rung.shutter.nominal)).toEqual(["1/500 s", "1/250 s", "1/125 s"]);
  });
});

const evening = { ev100: 9, iso: 100, minFNumber: 2.8, maxFNumber: 22, series: "full" as const };

describe("listEquivalents", () => {
  it("has a rung for each mark of the ring, all of one exposure", () => {
    const { rungs } = listEquivalents({ ...evening, series: "third", compensationStops: 1, attenuationStops: 3 });
    expect(rungs).toHaveLength(19);
    expect(rungs[0]?.aperture.nominal).toBe("f/2.8");
    expect(rungs.at(-1)?.aperture.nominal).toBe("f/22");
    for (const { aperture, shutter } of rungs) {
      expect(exposureValue(aperture.exact, shutter.seconds)).toBeCloseTo(5, 9);
    }
  });

  it("gives each rung its margin to each limit, in stops", () => {
    const { rungs, usableCount } = listEquivalents({
      ...evening,
      limits: { handHeldSeconds: 1 / 30, diffractionAperture: 11, depthOfFieldAperture: 5.6 },
    });
    // EV 9: f/2.8 1/64, f/4 1/32, f/5.6 1/16, f/8 1/8, f/11 1/4, f/16 1/2, f/22 1
    const margins = (limit: string) =>
      rungs.map(({ limits }) => {
        const margin = limits.find((each) => each.limit === limit)?.marginStops as number;
        return Math.round(margin * 1e9) / 1e9;
      });
    expect(margins("hand-held")).toEqual([1, 0, -1, -2, -3, -4, -5]);
    expect(margins("diffraction")).toEqual([4, 3, 2, 1, 0, -1, -2]);
    expect(margins("depth-of-field")).toEqual([-2, -1, 0, 1, 2, 3, 4]);
    expect(rungs.map(({ binding }) => binding)).toEqual([
      "depth-of-field",
      "depth-of-field",
      "hand-held",
      "hand-held",
      "hand-held",
      "hand-held",
      "hand-held",
    ]);
    expect(usableCount).toBe(0);
  });

  it("names the ISO that reconciles depth of field with what is held by hand", () => {
    const { rungs, isoNeeded } = listEquivalents({
      ...evening,
      limits: { handHeldSeconds: 1 / 30, diffractionAperture: 11, depthOfFieldAperture: 5.6 },
    });
    expect(isoNeeded?.nominal).toBe("ISO 200");
    expect(rungs.map((rung) => rung.isoNeeded?.nominal ?? null)).toEqual([
      null,
      null,
      "ISO 200",
      "ISO 400",
      "ISO 800",
      null,
      null,
    ]);
  });

  it("needs no other ISO where a rung holds every limit", () => {
    const { rungs, isoNeeded, usableCount } = listEquivalents({ ...evening, limits: { subjectMotionSeconds: 1 / 8 } });
    expect(rungs.map(({ usable }) => usable)).toEqual([true, true, true, true, false, false, false]);
    expect(usableCount).toBe(4);
    expect(isoNeeded?.nominal).toBe("ISO 100");
  });

  it("says that limits exclude each other at any ISO", () => {
    const apart = listEquivalents({ ...evening, limits: { depthOfFieldAperture: 16, diffractionAperture: 8 } });
    expect(apart).toMatchObject({ usableCount: 0, isoNeeded: null });
    const times = listEquivalents({ ...evening, limits: { wantedBlurSeconds: 1, handHeldSeconds: 1 / 60 } });
    expect(times).toMatchObject({ usableCount: 0, isoNeeded: null });
  });

  it("binds by the fastest and the longest shutter of the camera", () => {
    const bright = listEquivalents({ ev100: 17, iso: 100, minFNumber: 1.4, maxFNumber: 16, series: "full" });
    // f/1.4 asks for 1/65536 s, f/4 for 1/8192 s
    expect(bright.rungs.map(({ usable }) => usable)).toEqual([false, false, false, true, true, true, true, true]);
    expect(bright.assumptions).toContainEqual(expect.objectContaining({ field: "limits.minShutterSeconds" }));
    const dark = listEquivalents({ ...evening, ev100: 1, limits: { maxShutterSeconds: 30 } });
    expect(dark.rungs.filter(({ usable }) => usable).at(-1)?.aperture.nominal).toBe("f/8");
  });

  it("works out what hands and moving things allow", () => {
    const handHeld = { focalLengthMm: 30, cropFactor: 1.5, stabilisationStops: 1 };
    const subjectMotion = { speedMPerS: 1, distanceM: 10.05, focalLengthMm: 50, pixelPitchUm: 5, blurPx: 20 };
    const { rungs } = listEquivalents({ ...evening, handHeld, subjectMotion });
    const margins = rungs[0]?.limits.map(({ limit, marginStops }) => [limit, marginStops]);
    expect(margins).toContainEqual(["hand-held", expect.closeTo(Math.log2((2 / 45) * 64), 9)]);
    // 20 px at 1000 px/s is 1/50 s, read as the mark
    expect(margins).toContainEqual(["subject-motion", expect.closeTo(1 / 3, 9)]);
    const still = listEquivalents({ ...evening, subjectMotion: { ...subjectMotion, speedMPerS: 0 } });
    expect(still.rungs[0]?.limits.map(({ limit }) => limit)).toEqual(["fastest-shutter"]);
  });

  it("starts at the lens' own widest aperture where that is no mark", () => {
    const { rungs } = listEquivalents({ ...evening, minFNumber: 3.4 });
    expect(rungs[0]?.aperture).toMatchObject({ exact: 3.4, origin: "value" });
    expect(rungs[1]?.aperture.nominal).toBe("f/4");
  });

  it("says which lens it assumed", () => {
    const { assumptions } = listEquivalents({ ev100: 9, iso: 100 });
    expect(assumptions.map(({ field }) => field)).toEqual(["minFNumber", "maxFNumber", "limits.minShutterSeconds"]);
  });

  it("never calls a rung usable that breaks a limit, and its ISO holds them", () => {
    const time = fc.double({ min: 1 / 4000, max: 20, noNaN: true });
    fc.assert(
      fc.property(
        fc.double({ min: -2, max: 15, noNaN: true }),
        time,
        time,
        (ev100, handHeldSeconds, wantedBlurSeconds) => {
          const limits = { handHeldSeconds, wantedBlurSeconds };
          for (const rung of listEquivalents({ ...evening, ev100, limits }).rungs) {
            expect(rung.usable).toBe(rung.limits.every(({ marginStops }) => marginStops >= -1e-9));
            if (rung.isoNeeded === null) continue;
            const { rungs } = listEquivalents({ ...evening, ev100, limits, iso: rung.isoNeeded.exact });
            const same = rungs.find(({ aperture }) => aperture.nominal === rung.aperture.nominal);
            expect(same?.usable).toBe(true);
          }
        },
      ),
    );
  });

  it("has no ladder where even the widest aperture asks for months", () => {
    expect(() => listEquivalents({ ...evening, ev100: -30 })).toThrow(
      expect.objectContaining({ code: "impossible", param: "iso" }),
    );
  });

  it.each([
    ["maxFNumber", { ...evening, maxFNumber: 2 }],
    ["minFNumber", { ...evening, minFNumber: 0 }],
    ["iso", { ...evening, iso: Number.NaN }],
    ["limits.handHeldSeconds", { ...evening, limits: { handHeldSeconds: 0 } }],
    ["limits.diffractionAperture", { ...evening, limits: { diffractionAperture: -8 } }],
    ["handHeld.focalLengthMm", { ...evening, handHeld: { focalLengthMm: 0 } }],
    ["limits.handHeldSeconds", { ...evening, handHeld: { focalLengthMm: 50 }, limits: { handHeldSeconds: 1 } }],
    [
      "subjectMotion.blurPx",
      { ...evening, subjectMotion: { speedMPerS: 1, distanceM: 9, focalLengthMm: 50, pixelPitchUm: 5, blurPx: 0 } },
    ],
  ])("names %s at fault", (param, request) => {
    expect(() => listEquivalents(request)).toThrow(expect.objectContaining({ name: "DomainError", param }));
  });
});
