import { dipDeg } from "@fieldstop/core/almanac";
import { ElevationGrid, REFRACTION_COEFFICIENT, scanHorizon } from "@fieldstop/core/horizon";
import geodesic from "geographiclib-geodesic";
import { describe, expect, it } from "vitest";
import rows from "./terrain.json";

const METRES_PER_FOOT = 0.3048;
const group = (name: string) => rows.filter((row) => row.group === name).map((row) => [row.id, row] as const);
type Row = (typeof rows)[number];
const numberIn = (row: Row, key: string): number | undefined => (row.inputs as Record<string, number | undefined>)[key];
const eyeM = (row: Row): number =>
  numberIn(row, "eyeHeightM") ?? (numberIn(row, "eyeHeightFt") as number) * METRES_PER_FOOT;

/** The sea, or a thin wall in it due north at a distance. */
function seaWithWall(distanceM: number, heightM: number): ElevationGrid {
  const rowsToWall = 400;
  const north = (geodesic.Geodesic.WGS84.Direct(50, 0, 0, distanceM).lat2 as number) - 50;
  const step = north / rowsToWall;
  const side = 2 * rowsToWall + 41;
  const middle = rowsToWall + 20;
  const samples = new Float32Array(side * side).fill(0);
  samples.fill(heightM, (middle - rowsToWall) * side, (middle - rowsToWall + 1) * side);
  return new ElevationGrid({
    samples,
    rows: side,
    columns: side,
    northDeg: 50 + middle * step,
    westDeg: -middle * step,
    latStepDeg: step,
    lonStepDeg: step,
  });
}

describe("published values of the horizon", () => {
  it("are all there", () => {
    expect(rows.length).toBe(34);
    expect(["dip", "horizon", "elev", "k"].map((name) => group(name).length)).toEqual([11, 12, 10, 1]);
    for (const row of rows) expect(row.source.length).toBeGreaterThan(5);
  });

  it.each(group("dip"))("%s: the navigator's dip", (_id, row) => {
    expect(Math.abs(dipDeg(eyeM(row)) * 60 - row.expected)).toBeLessThanOrEqual(row.tolerance as number);
  });

  it.each(group("horizon"))("%s: how far off the sea's horizon lies", (_id, row) => {
    const eyeHeightM = eyeM(row);
    const scan = scanHorizon(
      [seaWithWall(60_000, 0)],
      { latitude: 50, longitude: 0, eyeHeightM },
      { azimuthsDeg: [0, 45, 250], radiusM: 45_000, refractionCoefficient: numberIn(row, "k") },
    );
    const { relative } = row.tolerance as { relative: number };
    for (const distance of scan.distancesM) expect(Math.abs(distance / row.expected - 1)).toBeLessThan(relative);
  });

  it.each(group("elev"))("%s: how high a summit stands", (_id, row) => {
    const distanceM = (numberIn(row, "distanceKm") as number) * 1000;
    const eyeElevationM = numberIn(row, "eyeElevationM") as number;
    const eyeHeightM = Math.min(1000, eyeElevationM);
    const scan = scanHorizon(
      [seaWithWall(distanceM, numberIn(row, "targetElevationM") as number)],
      { latitude: 50, longitude: 0, eyeHeightM, elevationM: eyeElevationM - eyeHeightM },
      { azimuthsDeg: [0], radiusM: distanceM * 1.02, refractionCoefficient: numberIn(row, "k") },
    );
    expect(Math.abs((scan.altitudesDeg[0] as number) - row.expected)).toBeLessThan(0.0001);
    expect(scan.distancesM[0]).toBeCloseTo(distanceM, 0);
  });

  it.each(group("k"))("%s: the coefficient of refraction", (_id, row) => {
    expect(Math.abs(REFRACTION_COEFFICIENT - row.expected)).toBeLessThanOrEqual(row.tolerance as number);
  });
});
