import {
  circleOfConfusionMm,
  circleOfConfusionOfDiagonal,
  circleOfConfusionOnPrint,
  readSensor,
} from "@fieldstop/core/optics";
import { describe, expect, it } from "vitest";

const fullFrame = readSensor("full-frame");

describe("@examples", () => {
  it("answer as documented", () => {
    expect(circleOfConfusionOfDiagonal(43.27)).toBeCloseTo(0.0288, 4);
    expect(circleOfConfusionOnPrint(500)).toBeCloseTo(0.4, 12);
    const print = { longSideMm: 360, viewingDistanceMm: 500 };
    expect(circleOfConfusionMm(fullFrame, { print })).toBeCloseTo(0.04, 12);
  });
});

describe("circleOfConfusionMm", () => {
  it("is the diagonal over 1500 unless told, and says so", () => {
    const assumptions: { field: string }[] = [];
    const circle = circleOfConfusionMm(fullFrame, {}, assumptions as never);
    expect(circle).toBeCloseTo(Math.hypot(36, 24) / 1500, 12);
    expect(assumptions).toEqual([expect.objectContaining({ field: "circleOfConfusionMm", value: circle })]);
  });

  it("shrinks as the print grows, and grows with the distance it is seen from", () => {
    const at = (longSideMm: number, viewingDistanceMm: number): number =>
      circleOfConfusionMm(fullFrame, { print: { longSideMm, viewingDistanceMm } });
    expect(at(720, 500)).toBeCloseTo(at(360, 500) / 2, 12);
    expect(at(360, 1000)).toBeCloseTo(at(360, 500) * 2, 12);
  });

  it("looks at a print from its diagonal, no nearer than a hand's breadth", () => {
    const assumptions: { field: string; value: number }[] = [];
    circleOfConfusionMm(fullFrame, { print: { longSideMm: 600 } }, assumptions as never);
    circleOfConfusionMm(fullFrame, { print: { longSideMm: 90 } }, assumptions as never);
    expect(assumptions.map(({ field }) => field)).toEqual(["print.viewingDistanceMm", "print.viewingDistanceMm"]);
    expect(assumptions[0]?.value).toBeCloseTo(Math.hypot(600, 400), 9);
    expect(assumptions[1]?.value).toBe(250);
  });

  it("takes one that is said outright", () => {
    expect(circleOfConfusionMm(fullFrame, { circleOfConfusionMm: 0.03 })).toBe(0.03);
  });

  it.each<[string, string, Parameters<typeof circleOfConfusionMm>[1]]>([
    ["circleOfConfusionMm", "out-of-range", { circleOfConfusionMm: 0 }],
    ["circleOfConfusionMm", "out-of-range", { circleOfConfusionMm: 0.03, print: { longSideMm: 300 } }],
    ["print.longSideMm", "out-of-range", { print: { longSideMm: 0 } }],
    ["print.viewingDistanceMm", "out-of-range", { print: { longSideMm: 300, viewingDistanceMm: 0 } }],
    ["print", "impossible", { print: { longSideMm: 100_000, viewingDistanceMm: 50 } }],
    ["print", "impossible", { print: { longSideMm: 10, viewingDistanceMm: 1_000_000 } }],
  ])("refuses %s (%s) of %j", (param, code, wanted) => {
    expect(() => circleOfConfusionMm(fullFrame, wanted)).toThrow(
      expect.objectContaining({ name: "DomainError", param, code }),
    );
  });
});
