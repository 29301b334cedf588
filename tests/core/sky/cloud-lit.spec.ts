import { sunriseAltitudeDeg, twilightWindows } from "@fieldstop/core/almanac";
import { CLOUD_DECK_HEIGHTS_M, cloudLitDownToDeg } from "@fieldstop/core/sky";
import { describe, expect, it } from "vitest";

describe("cloudLitDownToDeg", () => {
  it("is the almanac's sunset on the sea itself", () => {
    expect(cloudLitDownToDeg(0)).toBeCloseTo(sunriseAltitudeDeg(0), 12);
  });

  it("goes down with the cloud's height and with its distance toward the sun", () => {
    const heights = [0, 500, 1000, 4000, 9000, 12_000].map((height) => cloudLitDownToDeg(height));
    expect([...heights].sort((a, b) => b - a)).toEqual(heights);
    // 111.2 km toward the sun is a degree of the earth's curve
    expect(cloudLitDownToDeg(4000, 111_195)).toBeCloseTo(cloudLitDownToDeg(4000) - 1, 3);
  });

  // Geometric dip acos(R/(R + h)) of 2.03° at 4 km and 3.04° at 9 km, from the sphere's radius
  it("holds the geometry and the refraction apart", () => {
    expect(cloudLitDownToDeg(4000)).toBeCloseTo(
      -(2.0297 + 34 / 60 + (34 / 60) * (1 - Math.exp(-4000 / 8400)) + 16 / 60),
      3,
    );
    expect(cloudLitDownToDeg(9000)).toBeLessThan(-4.2);
  });

  it.each([-1, 20_001, Number.NaN])("refuses a height of %s m", (height) => {
    expect(() => cloudLitDownToDeg(height)).toThrow(expect.objectContaining({ param: "heightM" }));
  });
});

describe("cloud-lit windows", () => {
  const strand = { latitude: 56.6, longitude: -9.4 };
  const start = Date.UTC(2027, 2, 20, 1);
  const windows = twilightWindows(start, start + 86_400_000, strand);
  const evening = (kind: string) => windows.find((window) => window.kind === kind && window.part === "evening");

  it("begin at sunset and end later the higher the cloud", () => {
    const ends = (["low", "middle", "high"] as const).map((level) => evening(`cloud-lit-${level}`)?.endMs as number);
    expect([...ends].sort((a, b) => a - b)).toEqual(ends);
    expect(evening("cloud-lit-low")?.startMs).toBe(evening("civil-twilight")?.startMs);
    // at the equinox the sun sinks by cos(latitude)·15° an hour
    const perHour = 15 * Math.cos((56.6 * Math.PI) / 180);
    const hours = (sunriseAltitudeDeg(0) - cloudLitDownToDeg(CLOUD_DECK_HEIGHTS_M.high)) / perHour;
    const high = evening("cloud-lit-high");
    expect(((high?.endMs as number) - (high?.startMs as number)) / 3_600_000).toBeCloseTo(hours, 1);
  });

  it("come before sunrise in the morning", () => {
    const morning = windows.filter(({ kind, part }) => kind === "cloud-lit-high" && part === "morning");
    expect(morning).toHaveLength(1);
  });
});
