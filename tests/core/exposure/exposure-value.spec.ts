import {
  apertureValue,
  brightnessValue,
  ev100FromEv,
  evAtIso,
  exposureValue,
  isoDegrees,
  speedValue,
  timeValue,
} from "@fieldstop/core/exposure";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

describe("@examples", () => {
  it("answer as documented", () => {
    expect(exposureValue(16, 1 / 128)).toBe(15);
    expect(ev100FromEv(15, 400)).toBe(13);
    expect(evAtIso(13, 400)).toBe(15);
    expect(apertureValue(8)).toBe(6);
    expect(timeValue(1 / 64)).toBe(6);
    expect(speedValue(100)).toBe(5);
    expect(brightnessValue(15)).toBe(10);
    expect(isoDegrees(100)).toBe(21);
  });
});

describe("the APEX sums", () => {
  const aperture = fc.double({ min: 0.5, max: 256, noNaN: true });
  const seconds = fc.double({ min: 1e-5, max: 1e5, noNaN: true });
  const iso = fc.double({ min: 1, max: 1e6, noNaN: true });

  it("hold: Ev = Av + Tv, and Bv = Ev − Sv", () => {
    fc.assert(
      fc.property(aperture, seconds, iso, (n, t, s) => {
        const ev = exposureValue(n, t);
        expect(ev).toBeCloseTo(apertureValue(n) + timeValue(t), 9);
        expect(brightnessValue(ev100FromEv(ev, s))).toBeCloseTo(ev - speedValue(s), 9);
      }),
    );
  });

  it("go to another ISO and back", () => {
    fc.assert(
      fc.property(fc.double({ min: -20, max: 30, noNaN: true }), iso, (ev100, s) => {
        expect(ev100FromEv(evAtIso(ev100, s), s)).toBeCloseTo(ev100, 9);
      }),
    );
  });
});

describe("outside the domain", () => {
  it.each([
    ["aperture", () => exposureValue(0, 1)],
    ["aperture", () => exposureValue(Number.NaN, 1)],
    ["shutterSeconds", () => exposureValue(8, -1)],
    ["shutterSeconds", () => timeValue(Number.POSITIVE_INFINITY)],
    ["iso", () => evAtIso(10, 0)],
    ["ev", () => ev100FromEv(Number.NaN, 100)],
    ["ev100", () => brightnessValue(41)],
  ])("names %s", (param, call) => {
    expect(call).toThrow(expect.objectContaining({ name: "DomainError", param, code: "out-of-range" }));
  });
});
