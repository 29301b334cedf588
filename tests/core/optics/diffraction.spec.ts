import { airyDiameterUm, apertureOfAiryDiameter } from "@fieldstop/core/optics";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

describe("@examples", () => {
  it("answer as documented", () => {
    expect(airyDiameterUm(11)).toBeCloseTo(14.76, 2);
    expect(apertureOfAiryDiameter(2 * 4.3)).toBeCloseTo(6.41, 2);
  });
});

describe("diffraction", () => {
  it("is undone by its inverse", () => {
    const aperture = fc.double({ min: 1, max: 64, noNaN: true });
    const wavelength = fc.double({ min: 400, max: 700, noNaN: true });
    fc.assert(
      fc.property(aperture, wavelength, (n, nm) => {
        expect(apertureOfAiryDiameter(airyDiameterUm(n, nm), nm)).toBeCloseTo(n, 9);
      }),
    );
  });

  it.each([
    ["aperture", () => airyDiameterUm(0)],
    ["wavelengthNm", () => airyDiameterUm(8, 0)],
    ["diameterUm", () => apertureOfAiryDiameter(Number.NaN)],
    ["wavelengthNm", () => apertureOfAiryDiameter(10, 1e6)],
  ])("refuses %s by name", (param, call) => {
    expect(call).toThrow(expect.objectContaining({ name: "DomainError", param }));
  });
});
