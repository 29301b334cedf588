import geodesic from "geographiclib-geodesic";
import { describe, expect, it } from "vitest";
import { GeodesicRays } from "../../../packages/core/src/horizon/geodesic-rays";

/** The largest distance [m] between the ray and the exact geodesic, over azimuths and distances. */
function worstM(latitude: number, longitude: number): number {
  const rays = new GeodesicRays(latitude, longitude, 150_000);
  let worst = 0;
  for (let azimuth = 0; azimuth < 360; azimuth += 7.3) {
    const ray = rays.ray(azimuth);
    for (const distance of [10, 1000, 20_000, 80_000, 133_000, 150_000]) {
      const exact = geodesic.Geodesic.WGS84.Direct(latitude, 0, azimuth, distance);
      ray.moveTo(distance);
      const north = (ray.northDeg - ((exact.lat2 as number) - latitude)) * 111_000;
      const east = (ray.eastDeg - (exact.lon2 as number)) * 111_000 * Math.cos((latitude * Math.PI) / 180);
      worst = Math.max(worst, Math.hypot(north, east));
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
    [70.01, 1e-6],
    [-83, 1e-6],
  ])("follow the exact geodesic from latitude %d within %d m", (latitude, metres) => {
    expect(worstM(latitude, 0)).toBeLessThan(metres);
    expect(worstM(latitude, -179.9)).toBeLessThan(metres);
  });
});
