import geodesic from "geographiclib-geodesic";
import { describe, expect, it } from "vitest";
import { GeodesicRays } from "../../../packages/core/src/horizon/geodesic-rays";

const { WGS84 } = geodesic.Geodesic;

/** The largest distance [m] between the ray and the exact geodesic, over azimuths and distances. */
function worstM(latitude: number): number {
  const rays = new GeodesicRays(latitude, 150_000);
  let worst = 0;
  for (let azimuth = 0; azimuth < 360; azimuth += 7.3) {
    const ray = rays.ray(azimuth);
    for (const distance of [10, 1000, 20_000, 80_000, 133_000, 150_000]) {
      const exact = WGS84.Direct(latitude, 0, azimuth, distance);
      ray.moveTo(distance);
      const between = WGS84.Inverse(latitude + ray.northDeg, ray.eastDeg, exact.lat2 as number, exact.lon2 as number);
      worst = Math.max(worst, between.s12 as number);
    }
  }
  return worst;
}

describe("geodesic rays", () => {
  it.each([
    [0, 0.001],
    [38.47, 0.001],
    [-45, 0.001],
    [60, 0.001],
    [70, 0.1],
    [70.01, 0.001],
    [-83, 0.001],
    [88.7, 0.001],
    [-89.9999, 0.001],
    [90, 0.001],
    [-90, 0.001],
  ])("follow the exact geodesic from latitude %d within %d m", (latitude, metres) => {
    expect(worstM(latitude)).toBeLessThan(metres);
  });

  it("count azimuths at a pole from the meridian of the longitude given", () => {
    for (const [latitude, azimuth, eastDeg] of [
      [90, 180, 0],
      [90, 90, 90],
      [90, 270, -90],
      [-90, 0, 0],
      [-90, 90, 90],
    ] as const) {
      const ray = new GeodesicRays(latitude, 150_000).ray(azimuth);
      ray.moveTo(10_000);
      expect(ray.eastDeg).toBeCloseTo(eastDeg, 9);
      expect(Math.abs(latitude + ray.northDeg)).toBeCloseTo(90 - 10_000 / 111_694, 5);
    }
  });
});
