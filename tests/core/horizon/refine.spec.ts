import { DomainError } from "@fieldstop/core";
import { type ElevationGrid, HorizonScanner, horizonAltitudeDeg, scanHorizon } from "@fieldstop/core/horizon";
import { describe, expect, it } from "vitest";
import { gridOf, hills, noise } from "./grids";

const viewpoint = { latitude: 56.5003, longitude: -9.5007, eyeHeightM: 2 };
const random = noise(20_261_125);
const rough = gridOf({ south: 56, west: -10, rows: 1201, columns: 1201, perDegree: 1200 }, (lat, lon) => {
  return hills(lat, lon) + 25 * random();
});

/** Misses of the straight lines between a profile's azimuths [deg], at places that are none of them, sorted. */
function misses(grid: ElevationGrid, profile: ReturnType<typeof scanHorizon>): number[] {
  const scanner = new HorizonScanner([grid], viewpoint, { radiusM: 30_000 });
  return Array.from({ length: 20_000 }, (_, i) => {
    const azimuth = (i * 360) / 20_000 + 0.0037;
    return Math.abs(horizonAltitudeDeg(profile, azimuth) - scanner.at(azimuth).altitudeDeg);
  }).sort((a, b) => a - b);
}

describe("azimuths put between others", () => {
  it("bring straight lines to within the tolerance of the skyline, all but a thousandth of it", () => {
    const even = scanHorizon([rough], viewpoint, { radiusM: 30_000 });
    const refined = scanHorizon([rough], viewpoint, { radiusM: 30_000, refine: {} });
    const before = misses(rough, even);
    const after = misses(rough, refined);
    expect(before.filter((miss) => miss > 0.01).length).toBeGreaterThan(
      after.filter((miss) => miss > 0.01).length * 20,
    );
    expect(after[Math.floor(0.999 * after.length)]).toBeLessThan(0.01);
    expect(after[after.length - 1]).toBeLessThan((before[before.length - 1] as number) / 2);
    expect(refined.azimuthsDeg.length).toBeLessThan(3600);
  });

  it("leave what was there as it was, ascending, with distances and doubts of their own", () => {
    const even = scanHorizon([rough], viewpoint, { stepDeg: 1, radiusM: 60_000 });
    const refined = scanHorizon([rough], viewpoint, { stepDeg: 1, radiusM: 60_000, refine: { toleranceDeg: 0.05 } });
    const { azimuthsDeg } = refined;
    for (const list of [refined.altitudesDeg, refined.distancesM, refined.reachesM, refined.certain]) {
      expect(list).toHaveLength(azimuthsDeg.length);
    }
    even.azimuthsDeg.forEach((azimuth, i) => {
      const at = azimuthsDeg.indexOf(azimuth);
      expect(refined.altitudesDeg[at]).toBe(even.altitudesDeg[i]);
      expect(refined.certain[at]).toBe(even.certain[i]);
    });
    for (let i = 1; i < azimuthsDeg.length; i++) {
      expect(azimuthsDeg[i]).toBeGreaterThan(azimuthsDeg[i - 1] as number);
    }
    for (const cell of refined.unknownCells) {
      for (const index of cell.azimuthIndices) expect(refined.certain[index]).toBe(false);
    }
    expect(refined.unknownCells.length).toBeGreaterThan(0);
    const inTheDark = new Set(refined.unknownCells.flatMap(({ azimuthIndices }) => azimuthIndices));
    expect(inTheDark.size).toBe(refined.certain.filter((certain) => !certain).length);
    for (const { azimuthIndices } of refined.unknownCells) {
      expect(azimuthIndices).toEqual([...new Set(azimuthIndices)].sort((a, b) => a - b));
    }
  });

  it("go no closer than the least step, and are no more than allowed, the worst misses first", () => {
    const coarse = scanHorizon([rough], viewpoint, { radiusM: 30_000, refine: { minStepDeg: 0.1 } });
    const steps = coarse.azimuthsDeg.map((azimuth, i) => (coarse.azimuthsDeg[i + 1] ?? 360) - azimuth);
    expect(Math.min(...steps)).toBeCloseTo(0.125, 12);
    const few = scanHorizon([rough], viewpoint, { radiusM: 30_000, refine: { maxAzimuths: 1500 } });
    expect(few.azimuthsDeg).toHaveLength(1500);
    const worst = (profile: typeof few) => misses(rough, profile).at(-1) as number;
    expect(worst(few)).toBeLessThan(worst(scanHorizon([rough], viewpoint, { radiusM: 30_000 })));
  });

  it("are not needed over the sea", () => {
    const sea = gridOf({ south: 56, west: -10, rows: 61, columns: 61, perDegree: 60 }, () => 0);
    expect(scanHorizon([sea], viewpoint, { radiusM: 20_000, refine: {} }).azimuthsDeg).toHaveLength(1440);
  });

  it.each([
    [{ toleranceDeg: 0 }, "refine.toleranceDeg"],
    [{ minStepDeg: Number.NaN }, "refine.minStepDeg"],
    [{ maxAzimuths: 7201 }, "refine.maxAzimuths"],
  ])("refuse %j, naming %s", (refine, param) => {
    const attempt = () => scanHorizon([rough], viewpoint, { radiusM: 1000, stepDeg: 30, refine });
    expect(attempt).toThrow(DomainError);
    expect(attempt).toThrow(expect.objectContaining({ param }));
  });
});
