import { ElevationGrid, scanHorizon } from "@fieldstop/core/horizon";
import { describe, expect, it } from "vitest";
import { degreesOfSlope, EFFECTIVE_RADIUS_M, hills, slopeTo, WGS84 } from "./grids";

interface Cap {
  /** 1 for the northern, -1 for the southern. */
  pole: 1 | -1;
  /** Lowest latitude, north or south [deg]. */
  from: number;
  rowsPerDegree: number;
  columnsPerDegree: number;
}

/** A grid all round a pole, its first and last column the same meridian. */
function capOf({ pole, from, rowsPerDegree, columnsPerDegree }: Cap, heightM: (lat: number, lon: number) => number) {
  const rows = Math.round((90 - from) * rowsPerDegree) + 1;
  const columns = 360 * columnsPerDegree + 1;
  const northDeg = pole > 0 ? 90 : -from;
  const samples = new Float32Array(rows * columns);
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      samples[row * columns + column] = heightM(northDeg - row / rowsPerDegree, column / columnsPerDegree - 180);
    }
  }
  const steps = { latStepDeg: 1 / rowsPerDegree, lonStepDeg: 1 / columnsPerDegree };
  return new ElevationGrid({ samples, rows, columns, northDeg, westDeg: -180, ...steps });
}

const round = (count: number) => Array.from({ length: count }, (_, i) => (i * 360) / count);

describe("scanHorizon at the poles and near them", () => {
  const dip = degreesOfSlope(-2 * Math.sqrt(100 / (2 * EFFECTIVE_RADIUS_M)));

  it.each([
    [90, 30],
    [89.99999, -180],
    [89.97, 0],
    [86.5, 179.99],
    [-90, 0],
    [-89.2, -77],
  ])("sees the same dip all round a frozen sea from latitude %d", (latitude, longitude) => {
    const pole = latitude > 0 ? 1 : -1;
    const sea = capOf({ pole, from: 85, rowsPerDegree: 30, columnsPerDegree: 2 }, () => 0);
    const scan = scanHorizon([sea], { latitude, longitude, eyeHeightM: 100 }, { stepDeg: 4 });
    expect(scan.altitudesDeg).toHaveLength(90);
    for (const altitude of scan.altitudesDeg) expect(altitude).toBeCloseTo(dip, 7);
    expect(scan.certain.every((certain) => certain)).toBe(true);
    expect(scan.unknownCells).toEqual([]);
  });

  it.each([
    [89.8, 0.00013, 40],
    [89.8, 170, -135],
    [-88.9, 12, 30],
    [87, -60, -57],
  ])("meets a thin wall on a meridian where the geodesic does, from latitude %d", (latitude, longitude, wall) => {
    const pole = latitude > 0 ? 1 : -1;
    const grid = capOf({ pole, from: 86.5, rowsPerDegree: 300, columnsPerDegree: 20 }, (lat, lon) =>
      Math.abs(lon - wall) < 1e-6 && Math.abs(lat) < 89.93 ? 1000 : 0,
    );
    const azimuthsDeg = round(180);
    const scan = scanHorizon([grid], { latitude, longitude, eyeHeightM: 2 }, { azimuthsDeg, radiusM: 60_000 });
    let met = 0;
    azimuthsDeg.forEach((azimuth, i) => {
      const line = WGS84.DirectLine(latitude, longitude, azimuth, 60_000);
      // how far past the wall's meridian, the short way round
      const past = (d: number) => (((line.Position(d).lon2 as number) - wall + 540) % 360) - 180;
      const start = past(1000);
      let far = 1000;
      while (far < 55_000 && Math.sign(past(far)) === Math.sign(start)) far += 500;
      const there = line.Position(far).lat2 as number;
      // past the tip of the wall, over the pole itself, or not at all
      if (far >= 55_000 || Math.abs(there) > 89.92 || Math.abs(past(far)) > 90 || Math.abs(there) < 86.6) return;
      let near = far - 500;
      for (let halving = 0; halving < 60; halving++) {
        const middle = (near + far) / 2;
        if (Math.sign(past(middle)) === Math.sign(start)) near = middle;
        else far = middle;
      }
      met++;
      expect(scan.altitudesDeg[i]).toBeCloseTo(degreesOfSlope(slopeTo(1000, 2, near)), 4);
      expect(Math.abs((scan.distancesM[i] as number) - near)).toBeLessThan(0.5);
    });
    expect(met).toBeGreaterThan(15);
  });

  it("counts azimuths at the pole itself from the meridian of the longitude given", () => {
    const peak = { latitude: 89.9, longitude: 75 };
    const grid = capOf({ pole: 1, from: 88, rowsPerDegree: 120, columnsPerDegree: 4 }, (lat, lon) =>
      Math.abs(lat - peak.latitude) < 1e-6 && Math.abs(lon - peak.longitude) < 1e-6 ? 800 : 0,
    );
    const from = { latitude: 90, longitude: 30, eyeHeightM: 2 };
    const line = WGS84.Inverse(from.latitude, from.longitude, peak.latitude, peak.longitude);
    // 180° looks down the meridian of 30° E, 135° down that of 75° E
    expect(line.azi1).toBeCloseTo(135, 9);
    const scan = scanHorizon([grid], from, { azimuthsDeg: [45, 134, 135, 136, 225], radiusM: 50_000 });
    expect(scan.altitudesDeg[2]).toBeCloseTo(degreesOfSlope(slopeTo(800, 2, line.s12 as number)), 6);
    expect(scan.distancesM[2]).toBeCloseTo(line.s12 as number, 2);
    for (const other of [0, 4]) expect(scan.altitudesDeg[other]).toBeLessThan(0);
  });

  it("sees across the pole what it sees beside it", () => {
    // the same hills, turned half round the axis: the view over the pole is the view back
    const turned = (turn: number) =>
      capOf({ pole: 1, from: 87, rowsPerDegree: 240, columnsPerDegree: 4 }, (lat, lon) => {
        const colatitude = 90 - lat;
        const x = colatitude * Math.cos(((lon + turn) * Math.PI) / 180);
        const y = colatitude * Math.sin(((lon + turn) * Math.PI) / 180);
        return 0.2 * hills(x, y);
      });
    const scan = (turn: number) =>
      scanHorizon([turned(turn)], { latitude: 89.7, longitude: 20 - turn }, { stepDeg: 3, radiusM: 80_000 });
    const one = scan(0);
    // across the antimeridian and the other side of the pole
    for (const turn of [45, 180, -159.75]) {
      scan(turn).altitudesDeg.forEach((altitude, i) => {
        expect(Math.abs(altitude - (one.altitudesDeg[i] as number))).toBeLessThan(1e-4);
      });
    }
    expect(Math.max(...one.altitudesDeg)).toBeGreaterThan(0.3);
  });

  it("names the cells round a pole that nothing is known of", () => {
    const cap = capOf({ pole: -1, from: 88.5, rowsPerDegree: 60, columnsPerDegree: 2 }, () => 0);
    const scan = scanHorizon([cap], { latitude: -90, longitude: 0 }, { stepDeg: 15, radiusM: 190_000 });
    expect(scan.certain.some((certain) => certain)).toBe(false);
    for (const cell of scan.unknownCells) expect(cell.latitude).toBe(-89);
    expect(new Set(scan.unknownCells.flatMap((cell) => cell.azimuthIndices)).size).toBe(24);
  });
});
