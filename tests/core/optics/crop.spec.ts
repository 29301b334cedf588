import { cropTo, parseAspect, readSensor } from "@fieldstop/core/optics";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const fullFrame = readSensor({ widthMm: 36, heightMm: 24, widthPx: 6000 });

describe("@examples", () => {
  it("answer as documented", () => {
    expect(parseAspect("16:9")).toBeCloseTo(1.778, 3);
    expect(cropTo(readSensor("full-frame"), 16 / 9).keptPercent).toBeCloseTo(84.375, 12);
  });
});

describe("cropTo", () => {
  it("cuts top and bottom, or the sides, or nothing", () => {
    expect(cropTo(fullFrame, 16 / 9)).toEqual({
      widthMm: 36,
      heightMm: expect.closeTo(20.25, 12),
      cut: "top-and-bottom",
      keptPercent: expect.closeTo(84.375, 12),
      lostPercent: expect.closeTo(15.625, 12),
      widthPx: 6000,
      heightPx: 3375,
      megapixels: 20.25,
    });
    expect(cropTo(fullFrame, 1)).toMatchObject({ cut: "sides", widthPx: 4000, heightPx: 4000 });
    expect(cropTo(fullFrame, 1.5)).toMatchObject({ cut: "nothing", keptPercent: 100, lostPercent: 0, megapixels: 24 });
    expect(cropTo(readSensor("aps-c"), 1)).not.toHaveProperty("widthPx");
  });

  it("fits inside the frame, has the shape, and leaves no larger one", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.05, max: 20, noNaN: true }), (aspect) => {
        const { widthMm, heightMm, keptPercent } = cropTo(fullFrame, aspect);
        expect(widthMm / heightMm / aspect).toBeCloseTo(1, 9);
        expect(Math.max(widthMm / 36, heightMm / 24)).toBeCloseTo(1, 12);
        expect(keptPercent).toBeCloseTo((100 * widthMm * heightMm) / (36 * 24), 9);
      }),
    );
  });

  it.each(["16/9", "0:1", "wide", "", "21:1", "-3:2", "3:2:1"])("refuses %j", (text) => {
    expect(() => parseAspect(text)).toThrow(expect.objectContaining({ name: "DomainError", param: "cropAspect" }));
  });
});
