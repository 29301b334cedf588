import { DomainError, frameProjection, horizonProfileFromPoints, skylineInFrame } from "@fieldstop/core";
import {
  assessGraduated,
  edgeSoftness,
  type GraduatedAssessment,
  type GraduatedFilter,
  type GraduatedRequest,
  graduatedDensityWanted,
  graduatedShare,
  LARGEST_STRAY_PERCENT,
  MARKETED_DENSITIES,
} from "@fieldstop/core/filters";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const camera = { azimuthDeg: 270, pitchDeg: 0, focalLengthMm: 24, widthMm: 36, heightMm: 24 } as const;
const projection = frameProjection(camera);
const seaSkyline = skylineInFrame({ azimuthsDeg: [0, 180], altitudesDeg: [0, 0] }, camera);

/** A saw of ridges, so high and so far apart. */
function ridges(heightDeg: number, stepDeg = 10) {
  const points = Array.from({ length: 360 / stepDeg }, (_, i) => ({
    azimuthDeg: i * stepDeg,
    altitudeDeg: i % 2 === 0 ? heightDeg : 0,
  }));
  return skylineInFrame(horizonProfileFromPoints(points), camera);
}

const assess = (request: Partial<GraduatedRequest> = {}): GraduatedAssessment =>
  assessGraduated({ skyline: seaSkyline, projection, contrastStops: 5, ...request });
const codes = ({ reasons }: GraduatedAssessment) => reasons.map(({ code }) => code);
const stack = { name: "the stack", azimuthDeg: 270, altitudeDeg: 4, widthDeg: 8, heightDeg: 12 };
const soft2: GraduatedFilter = { kind: "graduated", stops: 2, transition: "soft" };
const hard4: GraduatedFilter = { kind: "graduated", density: 1.2, transition: "hard" };

describe("@examples", () => {
  it("hold", () => {
    expect(graduatedDensityWanted(5)).toBe(1.2);
    expect(assess().filter?.stops).toBeCloseTo(4, 1);
    expect(assess().filter?.transition).toBe("hard");
  });
});

describe("graduatedDensityWanted", () => {
  it("grows with the contrast, and never turns sky and ground round", () => {
    const contrasts = fc.double({ min: -5, max: 12, noNaN: true });
    const residuals = fc.double({ min: 0, max: 4, noNaN: true });
    fc.assert(
      fc.property(contrasts, contrasts, residuals, (a, b, residual) => {
        const [less, more] = [Math.min(a, b), Math.max(a, b)].map(
          (stops) => graduatedDensityWanted(stops, residual) ?? 0,
        );
        expect(less).toBeLessThanOrEqual(more as number);
        expect((less as number) * Math.log2(10)).toBeLessThanOrEqual(Math.max(0, Math.min(a, b)));
      }),
    );
  });

  it("is one of those at hand, whatever their order", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 12, noNaN: true }), (contrast) => {
        const wanted = graduatedDensityWanted(contrast);
        expect(wanted === null || MARKETED_DENSITIES.includes(wanted)).toBe(true);
        expect(graduatedDensityWanted(contrast, 2, [...MARKETED_DENSITIES].reverse())).toBe(wanted);
      }),
    );
  });

  it("refuses what is no contrast, residual or density", () => {
    expect(() => graduatedDensityWanted(Number.NaN)).toThrow(DomainError);
    expect(() => graduatedDensityWanted(3, -1)).toThrow(DomainError);
    expect(() => graduatedDensityWanted(3, 2, [7])).toThrow(DomainError);
  });
});

describe("graduatedShare", () => {
  const transitions = ["hard", "medium", "soft"] as const;

  it("goes from nothing to all, half on the line, the sharper the steeper", () => {
    fc.assert(
      fc.property(fc.double({ min: -100, max: 100, noNaN: true }), (above) => {
        const [hard, medium, soft] = transitions.map((transition) => graduatedShare(transition, above)) as [
          number,
          number,
          number,
        ];
        for (const share of [hard, medium, soft, graduatedShare("reverse", above)]) {
          expect(share).toBeGreaterThanOrEqual(0);
          expect(share).toBeLessThanOrEqual(1);
        }
        const [steep, flat] = above >= 0 ? [hard, soft] : [soft, hard];
        expect(steep).toBeGreaterThanOrEqual(flat);
        expect(graduatedShare("medium", -above)).toBeCloseTo(1 - medium, 12);
      }),
    );
  });

  it("is darkest at the line for a reverse filter, and half as dark at the top", () => {
    expect(graduatedShare("reverse", 4)).toBeCloseTo(1, 12);
    expect(graduatedShare("reverse", 96)).toBeCloseTo(0.5, 12);
    expect(graduatedShare("reverse", 50)).toBeGreaterThan(graduatedShare("reverse", 60));
  });
});

describe("edgeSoftness", () => {
  // common practice: a long lens softens a hard edge, a short one sharpens it
  it("grows with the focal length: a hard edge fits ridges at 100 mm that it does not at 24 mm", () => {
    expect(edgeSoftness(projection)).toBeCloseTo(1, 9);
    const long = { ...camera, focalLengthMm: 96 };
    expect(edgeSoftness(frameProjection(long))).toBeCloseTo(4, 9);
    expect(edgeSoftness(frameProjection({ ...camera, focalLengthMm: 14 }))).toBeLessThan(1);
    const hard3: GraduatedFilter = { kind: "graduated", stops: 3, transition: "hard" };
    const hills = horizonProfileFromPoints(
      Array.from({ length: 120 }, (_, i) => ({ azimuthDeg: 3 * i, altitudeDeg: i % 2 === 0 ? 1.5 : 0 })),
    );
    const fitOn = (focalLengthMm: number) => {
      const framed = { ...camera, focalLengthMm };
      const skyline = skylineInFrame(hills, framed);
      return assess({ skyline, projection: frameProjection(framed), available: [hard3], contrastStops: 4 });
    };
    // the ridges stand four times as high in the long lens's frame
    expect(fitOn(96).filter?.transition).toBe("hard");
    const near = { ...camera, focalLengthMm: 24 };
    const steep = skylineInFrame(
      horizonProfileFromPoints(
        Array.from({ length: 60 }, (_, i) => ({ azimuthDeg: 6 * i, altitudeDeg: i % 2 === 0 ? 6 : 0 })),
      ),
      near,
    );
    expect(assess({ skyline: steep, available: [hard3], contrastStops: 4 }).filter).toBeNull();
  });
});

describe("assessGraduated", () => {
  it("lays a hard edge along the sea, level, where the horizon is", () => {
    const { kind, filter, line, reasons, darkens, assumptions } = assess();
    expect(kind).toBe("fits");
    expect(filter).toMatchObject({ transition: "hard", mark: "density 1.2" });
    expect(filter?.position).toBeCloseTo(0.5, 3);
    expect(filter?.tiltDeg).toBeCloseTo(0, 6);
    expect(line?.residualRmsPercent).toBeLessThan(0.1);
    expect(darkens).toEqual([]);
    expect(reasons.map(({ code }) => code)).toEqual(["contrast-asks", "skyline-straight", "sky-stays-brighter"]);
    expect(assumptions.map(({ field }) => field)).toEqual(["residualStops", "available"]);
  });

  it("tilts with the camera: rolled clockwise, the horizon leans the other way", () => {
    const rolled = { ...camera, rollDeg: 8 };
    const skyline = skylineInFrame({ azimuthsDeg: [0, 180], altitudesDeg: [0, 0] }, rolled);
    const { filter } = assess({ skyline, projection: frameProjection(rolled) });
    expect(filter?.tiltDeg).toBeCloseTo(-8, 1);
  });

  it("goes from hard through medium and soft to a bracket as the skyline grows rough", () => {
    const seen = [0, 0.5, 1, 2, 4, 6, 8, 10, 12, 14, 16, 18].map((height) => {
      const { filter, line, darkens } = assess({ skyline: ridges(height) });
      const rms = line?.residualRmsPercent as number;
      if (filter === null) {
        expect(rms).toBeGreaterThan(LARGEST_STRAY_PERCENT.soft);
        return "bracket";
      }
      expect(rms).toBeLessThanOrEqual(LARGEST_STRAY_PERCENT[filter.transition]);
      // a harder edge is kept only where it does not show on the peaks
      if (filter.transition !== "soft") expect(darkens).toEqual([]);
      return filter.transition;
    });
    expect([...new Set(seen)]).toEqual(["hard", "medium", "soft", "bracket"]);
    expect(codes(assess({ skyline: ridges(18) }))).toEqual(["contrast-asks", "skyline-uneven", "use-a-bracket"]);
  });

  it("says by how much the peaks that rise over the line get darker", () => {
    const { kind, darkens, filter } = assess({ skyline: ridges(8) });
    expect(kind).toBe("fits-with-cost");
    expect(darkens[0]?.what).toBe("skyline");
    expect(darkens[0]?.maxStops).toBeGreaterThan(1 / 3);
    expect(darkens[0]?.maxStops).toBeLessThanOrEqual((filter?.stops as number) / 2);
    expect(darkens[0]?.meanStops).toBeLessThan(darkens[0]?.maxStops as number);
  });

  it("names a stack across the line, and how dark its top gets", () => {
    const { kind, darkens, filter, reasons } = assess({ obstacles: [stack] });
    expect(kind).toBe("fits-with-cost");
    expect(darkens).toHaveLength(1);
    expect(darkens[0]).toMatchObject({ what: "obstacle", name: "the stack" });
    expect(darkens[0]?.maxStops).toBeCloseTo(filter?.stops as number, 6);
    expect(darkens[0]?.meanStops).toBeGreaterThan(1);
    // 8° of a lens that takes in 74°, rectilinear: 2·24·tan 4° of 36 mm
    expect(darkens[0]?.widthPercent).toBeCloseTo((100 * 2 * 24 * Math.tan((4 * Math.PI) / 180)) / 36, 6);
    expect(reasons.at(-1)).toMatchObject({ code: "darkens-across-the-line" });
  });

  it("leaves alone what lies under the line or out of the frame", () => {
    const under = { ...stack, altitudeDeg: -10, heightDeg: 8 };
    expect(assess({ obstacles: [under] }).kind).toBe("fits");
    expect(assess({ obstacles: [{ ...stack, azimuthDeg: 90 }] })).toMatchObject({ kind: "fits", darkens: [] });
  });

  it("does not fit where what stands across takes a good part of the frame", () => {
    const wide = assess({ obstacles: [{ ...stack, widthDeg: 40 }] });
    expect(wide).toMatchObject({ kind: "does-not-fit", filter: null });
    expect(codes(wide)).toEqual([
      "contrast-asks",
      "skyline-straight",
      "sky-stays-brighter",
      "too-much-across-the-line",
      "use-a-bracket",
    ]);
    expect(wide.darkens[0]?.name).toBe("the stack");
  });

  it("turns to a reverse filter for a sun on the line, not for one high up, behind or far under it", () => {
    const under = (azimuthDeg: number, altitudeDeg: number) =>
      assess({ sun: { azimuthDeg, altitudeDeg } }).filter?.transition;
    expect(under(268, 1)).toBe("reverse");
    expect(under(268, -2)).toBe("reverse");
    expect(under(268, 12)).toBe("hard");
    expect(under(268, -6)).toBe("hard");
    expect(under(90, 1)).toBe("hard");
    expect(under(190, 1)).toBe("hard");
    expect(codes(assess({ sun: { azimuthDeg: 268, altitudeDeg: 1 } }))).toContain("sun-on-the-line");
    // a rough skyline bears no reverse filter
    const low = { azimuthDeg: 268, altitudeDeg: 3 };
    expect(assess({ skyline: ridges(8), sun: low }).filter).toEqual(assess({ skyline: ridges(8) }).filter);
    expect(assess({ skyline: ridges(8), sun: low }).filter?.transition).toBe("soft");
  });

  it("takes the strength that comes nearest, in the bag that there is", () => {
    expect(assess({ available: [soft2, hard4] }).filter).toMatchObject({ mark: "density 1.2", transition: "hard" });
    expect(assess({ available: [soft2, hard4], contrastStops: 4 }).filter).toMatchObject({ mark: "2 stops" });
    const none = assess({ available: [hard4], skyline: ridges(10) });
    expect(codes(none)).toContain("no-transition-at-hand");
    expect(none.kind).toBe("does-not-fit");
    const strong = assess({ available: [hard4], contrastStops: 3.5 });
    expect(codes(strong)).toContain("no-strength-at-hand");
  });

  it("needs none where the contrast looks natural, and knows no line where none crosses", () => {
    expect(assess({ contrastStops: 1.9 })).toMatchObject({
      kind: "not-needed",
      filter: null,
      wantedStops: expect.closeTo(0.9),
    });
    expect(assess({ contrastStops: -3 }).kind).toBe("not-needed");
    const looksUp = { ...camera, pitchDeg: 40 };
    const sky = skylineInFrame({ azimuthsDeg: [0, 180], altitudesDeg: [0, 0] }, looksUp);
    const none = assess({ skyline: sky, projection: frameProjection(looksUp) });
    expect(none).toMatchObject({ kind: "does-not-fit", line: null });
    expect(codes(none)).toContain("no-skyline");
  });

  it("takes the strength at hand that leaves the sky about a stop brighter, and over still water none that lets the reflection outshine it", () => {
    const bag: GraduatedFilter[] = [2, 3].map((stops) => ({ kind: "graduated", stops, transition: "soft" }));
    const taken = (more: Partial<GraduatedRequest>) =>
      assess({ contrastStops: 4, available: bag, ...more }).filter?.stops;
    // Advanced Photography Guide (2018), p. 126: a sky three stops brighter takes a filter of two
    expect(taken({ contrastStops: 3 })).toBe(2);
    expect(taken({})).toBe(3);
    expect(taken({ reflectionStops: 1.7 })).toBe(2);
    // no water for sure where none would do
    expect(taken({ reflectionStops: 0.5 })).toBe(3);
  });

  it("always gives a reason, never turns sky and ground round, and answers a filter only where one fits", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -5, max: 12, noNaN: true }),
        fc.double({ min: 0, max: 20, noNaN: true }),
        fc.double({ min: 0, max: 4, noNaN: true }),
        fc.double({ min: 1, max: 60, noNaN: true }),
        (contrastStops, height, residualStops, widthDeg) => {
          const answer = assess({
            contrastStops,
            residualStops,
            skyline: ridges(height),
            obstacles: [{ ...stack, widthDeg }],
          });
          expect(answer.reasons.length).toBeGreaterThan(0);
          expect(answer.filter !== null).toBe(answer.kind.startsWith("fits"));
          expect(answer.filter?.stops ?? 0).toBeLessThanOrEqual(Math.max(0, contrastStops));
          if (answer.kind === "fits-with-cost") expect(answer.darkens.length).toBeGreaterThan(0);
          if (answer.kind === "fits") expect(answer.darkens).toEqual([]);
          if (answer.kind === "does-not-fit") expect(codes(answer).at(-1)).toBe("use-a-bracket");
          for (const { maxStops, meanStops } of answer.darkens) {
            expect(meanStops).toBeLessThanOrEqual(maxStops);
            expect(maxStops).toBeGreaterThanOrEqual(1 / 3);
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  it.each<[string, Partial<GraduatedRequest>]>([
    ["contrastStops", { contrastStops: 41 }],
    ["contrastStops", { contrastStops: Number.NaN }],
    ["residualStops", { residualStops: 11 }],
    ["obstacles.0.widthDeg", { obstacles: [{ ...stack, widthDeg: 0 }] }],
    ["obstacles.1.altitudeDeg", { obstacles: [stack, { ...stack, altitudeDeg: 91 }] }],
    ["obstacles", { obstacles: Array.from({ length: 51 }, () => stack) }],
    ["available", { available: [] }],
    ["available.0.kind", { available: [{ kind: "nd", stops: 3 } as unknown as GraduatedFilter] }],
    ["available.0", { available: [{ kind: "graduated", transition: "hard" }] }],
    ["available.0.transition", { available: [{ ...soft2, transition: "fuzzy" as "soft" }] }],
  ])("names %s", (param, request) => {
    let thrown: unknown;
    try {
      assess(request);
    } catch (error) {
      thrown = error;
    }
    expect(thrown).toBeInstanceOf(DomainError);
    expect((thrown as DomainError).param).toBe(param);
  });
});
