import { type DepthOfFieldRequest, depthOfField } from "@fieldstop/core/optics";
import { describe, expect, it } from "vitest";

const strand: DepthOfFieldRequest = { sensor: "full-frame", focalLengthMm: 24, aperture: 8, circleOfConfusionMm: 0.03 };
const codes = (request: DepthOfFieldRequest): string[] => depthOfField(request).advice.map(({ code }) => code);

describe("@examples", () => {
  it("answer as documented", () => {
    const request = { sensor: "full-frame", focalLengthMm: 50, aperture: 8, circleOfConfusionMm: 0.03 } as const;
    expect(depthOfField({ ...request, focusDistanceM: 5 }).nearM).toBeCloseTo(3.389, 3);
  });
});

describe("depthOfField", () => {
  it("gives limits, depth and the blur of what is far away", () => {
    const { nearM, far, depthM, hyperfocalM, blurAtInfinityMm } = depthOfField({ ...strand, focusDistanceM: 1.5 });
    expect(hyperfocalM).toBeCloseTo(2.424, 3);
    expect(nearM).toBeCloseTo(0.929, 3);
    expect(far.kind).toBe("distance");
    expect(depthM).toBeCloseTo((far.distanceM as number) - nearM, 12);
    expect(blurAtInfinityMm).toBeCloseTo((0.03 * 2.4) / (1.5 - 0.024), 9);
  });

  it("says infinity as a value, and survives JSON", () => {
    const answer = depthOfField({ ...strand, focusDistanceM: "infinity" });
    expect(answer).toMatchObject({ far: { kind: "infinity", distanceM: null }, depthM: null, blurAtInfinityMm: 0 });
    expect(JSON.parse(JSON.stringify(answer))).toEqual(answer);
  });

  it("focuses at the hyperfocal distance unless told, and says so", () => {
    const { focusDistanceM, hyperfocalM, far, assumptions } = depthOfField(strand);
    expect(focusDistanceM).toBe(hyperfocalM);
    expect(far.kind).toBe("infinity");
    expect(assumptions).toContainEqual(expect.objectContaining({ field: "focusDistanceM", value: hyperfocalM }));
  });

  it("reads a mark as what it stands for, and says so", () => {
    const { aperture, assumptions } = depthOfField({ ...strand, aperture: 11 });
    expect(aperture).toMatchObject({ exact: 2 ** 3.5, nominal: "f/11" });
    expect(assumptions).toContainEqual(expect.objectContaining({ field: "aperture", value: 2 ** 3.5 }));
    expect(depthOfField(strand).assumptions.map(({ field }) => field)).not.toContain("aperture");
  });

  it("says where diffraction begins, by the circle and by two pixels", () => {
    const byCircle = depthOfField(strand).diffraction;
    expect(byCircle.apertureAtCircleOfConfusion).toBeCloseTo(22.361, 3);
    expect(byCircle).not.toHaveProperty("apertureAtTwoPixels");
    const sensor = { widthMm: 36, heightMm: 24, widthPx: 6000 };
    expect(depthOfField({ ...strand, sensor }).diffraction.apertureAtTwoPixels).toBeCloseTo(12 / 1.3416, 2);
  });
});

describe("advice", () => {
  it("says when infinity is soft, by how much, and where to focus instead", () => {
    const { advice } = depthOfField({ ...strand, focusDistanceM: 1 });
    expect(advice.map(({ code }) => code)).toEqual(["infinity-is-soft", "focus-at-hyperfocal"]);
    expect(advice[0]?.text).toContain("2.5 times");
    expect(advice[1]?.text).toContain("2.42 m");
    expect(advice[1]?.text).toContain("1.21 m");
  });

  it("says what is lost by focusing past the hyperfocal distance", () => {
    expect(codes({ ...strand, focusDistanceM: 20 })).toEqual(["focus-nearer"]);
    expect(codes({ ...strand, focusDistanceM: "infinity" })).toEqual(["focus-nearer"]);
    expect(codes(strand)).toEqual(["focus-at-hyperfocal"]);
  });

  it("says when diffraction alone is too much", () => {
    expect(codes({ ...strand, aperture: 32 })).toContain("diffraction-softens");
    expect(codes({ ...strand, aperture: 20 })).not.toContain("diffraction-softens");
  });
});

describe("what should be sharp", () => {
  it("is covered, or needs another focus, a smaller opening, or a stack", () => {
    const kind = (request: Partial<DepthOfFieldRequest>): string | undefined =>
      depthOfField({ ...strand, ...request }).forWanted?.kind;
    expect(kind({ wantedNearM: 1.3 })).toBe("covered");
    expect(kind({ wantedNearM: 1.3, focusDistanceM: 1.5 })).toBe("refocus");
    expect(kind({ wantedNearM: 0.9, focusDistanceM: 1.5 })).toBe("stop-down");
    expect(kind({ wantedNearM: 0.9, focusDistanceM: 1.5, maxFNumber: 8 })).toBe("focus-stack");
    expect(kind({ wantedNearM: 0.3 })).toBe("focus-stack");
    expect(kind({ wantedNearM: 1, wantedFarM: 4, focusDistanceM: 1.6 })).toBe("covered");
    expect(kind({})).toBeUndefined();
  });

  it("is held by the focus and the aperture that are advised", () => {
    let advised = 0;
    for (const wantedNearM of [0.7, 0.9, 1.1, 2]) {
      for (const wantedFarM of [5, 50, "infinity"] as const) {
        const first = depthOfField({ ...strand, aperture: 4, wantedNearM, wantedFarM, focusDistanceM: 1 }).forWanted;
        if (first?.kind === "focus-stack") continue;
        advised++;
        const again = depthOfField({
          ...strand,
          aperture: first?.aperture.exact as number,
          focusDistanceM: first?.focusDistanceM as number,
          wantedNearM,
          wantedFarM,
        });
        expect(again.forWanted?.kind).toBe("covered");
      }
    }
    expect(advised).toBeGreaterThanOrEqual(9);
  });

  it("is where the lens is focused unless told otherwise", () => {
    const { focusDistanceM, assumptions } = depthOfField({ ...strand, wantedNearM: 2, wantedFarM: 6 });
    expect(focusDistanceM).toBe(3);
    expect(assumptions).toContainEqual(expect.objectContaining({ field: "focusDistanceM", value: 3 }));
  });
});

describe("outside the domain", () => {
  it.each<[string, Partial<DepthOfFieldRequest>]>([
    ["aperture", { aperture: 0 }],
    ["aperture", { aperture: Number.NaN }],
    ["focalLengthMm", { focalLengthMm: 0 }],
    ["sensor", { sensor: "huge" as never }],
    ["focusDistanceM", { focusDistanceM: 0.02 }],
    ["focusDistanceM", { focusDistanceM: 1e7 }],
    ["wantedNearM", { wantedFarM: 10 }],
    ["wantedNearM", { wantedNearM: 0 }],
    ["wantedFarM", { wantedNearM: 10, wantedFarM: 5 }],
    ["maxFNumber", { wantedNearM: 1, maxFNumber: 0 }],
  ])("refuses %s of %j", (param, bad) => {
    expect(() => depthOfField({ ...strand, ...bad })).toThrow(expect.objectContaining({ name: "DomainError", param }));
  });
});
