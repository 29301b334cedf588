import { DomainError } from "@fieldstop/core";
import { describe, expect, it } from "vitest";
import { daysSinceJ2000, requireInstant } from "../../packages/core/src/time";

describe("time scales", () => {
  it("counts from noon of 1 January 2000", () => {
    expect(daysSinceJ2000(Date.UTC(2000, 0, 1, 12))).toBe(0);
    expect(daysSinceJ2000(Date.UTC(1999, 11, 31, 12))).toBe(-1);
  });
});

describe("requireInstant", () => {
  it("lets local days at both ends of the years pass", () => {
    for (const ms of [Date.UTC(1899, 11, 31, 10), Date.UTC(2101, 0, 1, 12)]) {
      expect(requireInstant("instantMs", ms)).toBe(ms);
    }
  });

  it.each([
    [Date.UTC(1899, 0, 1), "impossible"],
    [Date.UTC(2102, 0, 1), "impossible"],
    [Number.NaN, "out-of-range"],
    [Number.POSITIVE_INFINITY, "out-of-range"],
  ])("refuses %d", (ms, code) => {
    expect(() => requireInstant("startMs", ms)).toThrow(expect.objectContaining({ code, param: "startMs" }));
    expect(() => requireInstant("startMs", ms)).toThrow(DomainError);
  });
});
