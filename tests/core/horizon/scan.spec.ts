import { DomainError } from "@fieldstop/core";
import { compassAzimuthsDeg, ElevationGrid, HorizonScanner, scanHorizon } from "@fieldstop/core/horizon";
import { describe, expect, it } from "vitest";
import { degreesOfSlope, EFFECTIVE_RADIUS_M, gridOf, heightAlong, hills, noise, slopeTo, WGS84 } from "./grids";

const sea = (south: number, west: number, height: number, width: number, perDegree = 60) =>
  gridOf({ south, west, rows: height * perDegree + 1, columns: width * perDegree + 1, perDegree }, () => 0);

const dipDeg = (eyeM: number) => degreesOfSlope(-2 * Math.sqrt(eyeM / (2 * EFFECTIVE_RADIUS_M)));

describe("@examples", () => {
  it("sees the sea all round", () => {
    const grid = new ElevationGrid({
      samples: new Int16Array(121 * 121),
      rows: 121,
      columns: 121,
      northDeg: 57,
      westDeg: -10,
      latStepDeg: 1 / 120,
      lonStepDeg: 1 / 120,
    });
    const viewpoint = { latitude: 56.5, longitude: -9.5, eyeHeightM: 2 };
    const { altitudesDeg } = scanHorizon([grid], viewpoint, { azimuthsDeg: [0, 90, 180, 270], radiusM: 20_000 });
    expect(altitudesDeg).toHaveLength(4);
    for (const altitude of altitudesDeg) expect(altitude).toBeCloseTo(-0.0423, 4);
    const scanner = new HorizonScanner([grid], viewpoint, { radiusM: 20_000 });
    expect(scanner.at(265.3).altitudeDeg).toBeCloseTo(-0.0423, 4);
  });

  it("goes round the compass", () => {
    expect(compassAzimuthsDeg(30)).toEqual([0, 30, 60, 90, 120, 150, 180, 210, 240, 270, 300, 330]);
    expect(compassAzimuthsDeg()).toHaveLength(1440);
  });
});

describe("scanHorizon over surfaces whose skyline is known", () => {
  const ocean = sea(43, -4, 4, 8);

  it.each([2, 10, 100, 1000])("sees the sea's dip and distance from an eye at %d m", (eyeHeightM) => {
    const scan = scanHorizon([ocean], { latitude: 45.003, longitude: 0.007, eyeHeightM }, { stepDeg: 5 });
    expect(scan.altitudesDeg).toHaveLength(72);
    for (const [i, altitude] of scan.altitudesDeg.entries()) {
      expect(altitude).toBeCloseTo(dipDeg(eyeHeightM), 7);
      expect(scan.distancesM[i]).toBeCloseTo(Math.sqrt(2 * EFFECTIVE_RADIUS_M * eyeHeightM), -1);
    }
    expect(scan.certain.every((certain) => certain)).toBe(true);
    expect(scan.unknownCells).toEqual([]);
  });

  it("sees the same dip at 80° of latitude", () => {
    const arctic = sea(78, -12, 4, 24);
    const scan = scanHorizon([arctic], { latitude: 80, longitude: 0, eyeHeightM: 100 }, { stepDeg: 15 });
    for (const altitude of scan.altitudesDeg) expect(altitude).toBeCloseTo(dipDeg(100), 7);
  });

  it.each([38.5, -61.3, 75.2])(
    "meets a thin wall on a meridian where the geodesic does, from latitude %d",
    (latitude) => {
      const perDegree = 1200;
      const wallColumn = Math.round((19_000 / (111_320 * Math.cos((latitude * Math.PI) / 180))) * perDegree) + 200;
      const west = -200 / perDegree;
      const bounds = { south: latitude - 0.3, west, rows: 721, columns: wallColumn + 200, perDegree };
      const grid = gridOf(bounds, (_lat, _lon, _row, column) => (column === wallColumn ? 1000 : 0));
      const viewpoint = { latitude, longitude: 0.00013, eyeHeightM: 2 };
      const azimuthsDeg = Array.from({ length: 81 }, (_, i) => 55.3 + i * 0.9);
      const scan = scanHorizon([grid], viewpoint, { azimuthsDeg, radiusM: 24_000 });
      const wallLongitude = west + wallColumn / perDegree;
      azimuthsDeg.forEach((azimuth, i) => {
        let near = 10_000;
        let far = 40_000;
        for (let halving = 0; halving < 60; halving++) {
          const middle = (near + far) / 2;
          const there = WGS84.Direct(latitude, viewpoint.longitude, azimuth, middle);
          if ((there.lon2 as number) < wallLongitude) near = middle;
          else far = middle;
        }
        if (near > 23_900) return;
        expect(scan.altitudesDeg[i]).toBeCloseTo(degreesOfSlope(slopeTo(1000, 2, near)), 5);
        expect(Math.abs((scan.distancesM[i] as number) - near)).toBeLessThan(0.1);
      });
    },
  );

  it("sees a crater's rim at the same altitude all round", () => {
    const latitude = 52.2;
    const longitude = 0.0004;
    const rimM = 20_000;
    const rimSlope = slopeTo(1000, 2, rimM);
    const perDegree = 600;
    const bounds = { south: latitude - 0.25, west: -0.4, rows: 301, columns: 481, perDegree };
    // the apparent slope falls off as a parabola on both sides of the rim, so the grid cannot miss its top
    const grid = gridOf(bounds, (lat, lon) => {
      const d = WGS84.Inverse(latitude, longitude, lat, lon).s12 as number;
      return Math.max(0, 2 + d * (rimSlope - 4.85e-10 * (d - rimM) ** 2) + d ** 2 / (2 * EFFECTIVE_RADIUS_M));
    });
    const scan = scanHorizon(
      [grid],
      { latitude, longitude, elevationM: 0, eyeHeightM: 2 },
      { stepDeg: 1, radiusM: 25_000 },
    );
    const ground = scan.groundElevationM;
    const allowance = degreesOfSlope(ground / rimM);
    // 2.77864° is tan e = (Δh − d²(1 − k)/2R)/d for 2 m, 1000 m and 20 km
    for (const altitude of scan.altitudesDeg) expect(Math.abs(altitude - 2.77864)).toBeLessThan(0.0006 + allowance);
    expect(Math.max(...scan.altitudesDeg) - Math.min(...scan.altitudesDeg)).toBeLessThan(0.0006);
  });

  it("sees the top of a cone that stands on a node", () => {
    const perDegree = 1200;
    const top = { row: 300, column: 700 };
    const grid = gridOf({ south: 38, west: -28, rows: 601, columns: 901, perDegree }, (_lat, _lon, row, column) =>
      Math.max(0, 500 - 9 * Math.hypot(row - top.row, column - top.column)),
    );
    const viewpoint = { latitude: 38.21111, longitude: -27.70007, eyeHeightM: 1.6 };
    const topLatitude = grid.northDeg - top.row / perDegree;
    const line = WGS84.Inverse(viewpoint.latitude, viewpoint.longitude, topLatitude, -28 + top.column / perDegree);
    const distance = line.s12 as number;
    const scan = scanHorizon([grid], viewpoint, { azimuthsDeg: [line.azi1 as number], radiusM: 30_000 });
    expect(scan.altitudesDeg[0]).toBeCloseTo(degreesOfSlope(slopeTo(500, 1.6, distance)), 5);
    expect(scan.distancesM[0]).toBeCloseTo(distance, 0);
  });

  it("sees an inclined plane from inside one of its cells", () => {
    const latitude = 45.00031;
    const incline = 0.05;
    const grid = gridOf({ south: 44.9, west: 5, rows: 481, columns: 241, perDegree: 1200 }, (lat) => {
      const metres = WGS84.Inverse(latitude, 5.1, lat, 5.1).s12 as number;
      return 1000 + incline * metres * Math.sign(lat - latitude);
    });
    const viewpoint = { latitude, longitude: 5.10027, eyeHeightM: 2 };
    const scan = scanHorizon([grid], viewpoint, { azimuthsDeg: [0], radiusM: 8000 });
    const shallow = 2 * Math.sqrt(2 / (2 * EFFECTIVE_RADIUS_M));
    expect(scan.altitudesDeg[0]).toBeCloseTo(degreesOfSlope(incline - shallow), 4);
  });
});

describe("scanHorizon over rough ground", () => {
  const bounds = { south: 57, west: -6, rows: 241, columns: 241, perDegree: 1200 };

  it.each([
    ["white noise", 0],
    ["hills", 1],
  ])("misses nothing that a fine march finds, and shows nothing that is not there: %s", (_kind, which) => {
    const random = noise(20_261_125);
    const grid = gridOf(bounds, which === 0 ? () => 500 * random() : hills);
    const viewpoint = { latitude: 57.1003, longitude: -5.9007, eyeHeightM: 1.6 };
    const scan = scanHorizon([grid], viewpoint, { stepDeg: 6, radiusM: 5000 });
    const eye = scan.eyeElevationM;
    const slopeAt = (azimuth: number, d: number) =>
      slopeTo(heightAlong(grid, viewpoint.latitude, viewpoint.longitude, azimuth, d) as number, eye, d);
    expect(scan.azimuthsDeg).toHaveLength(60);
    scan.azimuthsDeg.forEach((azimuth, i) => {
      const found = scan.altitudesDeg[i] as number;
      let steepest = Number.NEGATIVE_INFINITY;
      for (let d = 1; d < 5000; d += 2) steepest = Math.max(steepest, slopeAt(azimuth, d));
      expect(found).toBeGreaterThan(degreesOfSlope(steepest) - 0.005);
      expect(Math.abs(found - degreesOfSlope(slopeAt(azimuth, scan.distancesM[i] as number)))).toBeLessThan(0.001);
    });
  });

  it("gives an azimuth the same altitude whichever others are asked for", () => {
    const grid = gridOf(bounds, hills);
    const viewpoint = { latitude: 57.11, longitude: -5.89 };
    const all = scanHorizon([grid], viewpoint, { stepDeg: 1, radiusM: 9000 });
    const some = scanHorizon([grid], viewpoint, { azimuthsDeg: [0, 17, 90, 111, 270, 359], radiusM: 9000 });
    some.azimuthsDeg.forEach((azimuth, i) => {
      expect(some.altitudesDeg[i]).toBe(all.altitudesDeg[azimuth]);
    });
    const scanner = new HorizonScanner([grid], viewpoint, { radiusM: 9000 });
    expect(scanner.at(111).altitudeDeg).toBe(all.altitudesDeg[111]);
    expect(scanner.at(-249).altitudeDeg).toBeCloseTo(all.altitudesDeg[111] as number, 9);
  });

  it("does not change where the grid is cut into tiles", () => {
    const whole = gridOf(bounds, hills);
    const quarter = (south: number, west: number) => gridOf({ ...bounds, south, west, rows: 121, columns: 121 }, hills);
    const tiles = [quarter(57, -6), quarter(57, -5.9), quarter(57.1, -6), quarter(57.1, -5.9)];
    for (const viewpoint of [
      { latitude: 57.0631, longitude: -5.8777 },
      // on the edge of two tiles, and on the corner of four
      { latitude: 57.1, longitude: -5.88 },
      { latitude: 57.1, longitude: -5.9 },
    ]) {
      const one = scanHorizon([whole], viewpoint, { stepDeg: 2.5, radiusM: 8000 });
      const four = scanHorizon(tiles, viewpoint, { stepDeg: 2.5, radiusM: 8000 });
      expect(one.altitudesDeg).toHaveLength(144);
      one.altitudesDeg.forEach((altitude, i) => {
        expect(four.altitudesDeg[i]).toBeCloseTo(altitude, 4);
      });
      expect(four.certain).toEqual(one.certain);
    }
  });

  it("rises or stays as the radius grows", () => {
    const grid = gridOf(bounds, hills);
    const viewpoint = { latitude: 57.1, longitude: -5.9 };
    const near = scanHorizon([grid], viewpoint, { stepDeg: 3, radiusM: 2000 });
    const far = scanHorizon([grid], viewpoint, { stepDeg: 3, radiusM: 9000 });
    near.altitudesDeg.forEach((altitude, i) => {
      // beyond the nearer radius the sea was the least; the ground there may only stand higher
      const known = (near.distancesM[i] as number) <= 2000 ? altitude : Number.NEGATIVE_INFINITY;
      expect(far.altitudesDeg[i]).toBeGreaterThanOrEqual(known - 1e-6);
    });
  });

  it("takes the grid that comes first where two cover a point", () => {
    const low = gridOf(bounds, () => 10);
    const high = gridOf({ ...bounds, south: 57.12, rows: 25 }, () => 400);
    const viewpoint = { latitude: 57.1, longitude: -5.9 };
    const options = { azimuthsDeg: [0], radiusM: 9000 };
    expect(scanHorizon([high, low], viewpoint, options).altitudesDeg[0]).toBeGreaterThan(5);
    expect(scanHorizon([low, high], viewpoint, options).altitudesDeg[0]).toBeLessThan(0);
  });

  it("crosses the antimeridian as any other", () => {
    const shifted = (west: number, from: number) =>
      gridOf({ south: 57, west, rows: 241, columns: 121, perDegree: 1200 }, (lat, lon) =>
        hills(lat, lon - west + from),
      );
    const options = { stepDeg: 5, radiusM: 5000 };
    const there = [shifted(179.9, 0), shifted(-180, 0.1)];
    const here = [shifted(10, 0), shifted(10.1, 0.1)];
    for (const east of [-0.01, 0, 0.01]) {
      const longitude = 180 + east > 180 ? east - 180 : 180 + east;
      const a = scanHorizon(there, { latitude: 57.1, longitude }, options);
      const b = scanHorizon(here, { latitude: 57.1, longitude: 10.1 + east }, options);
      a.altitudesDeg.forEach((altitude, i) => {
        expect(altitude).toBeCloseTo(b.altitudesDeg[i] as number, 4);
      });
      expect(a.certain).toEqual(b.certain);
    }
  });
});

describe("scanHorizon where ground is not known", () => {
  const perDegree = 1200;
  const bounds = { south: 56, west: -10, rows: 1201, columns: 1201, perDegree };

  it("says which azimuths a block of voids leaves in doubt, and keeps it out of the ground", () => {
    const isVoid = (row: number, column: number) => row >= 590 && row < 610 && column >= 700 && column < 720;
    const grid = gridOf(bounds, (_lat, _lon, row, column) => (isVoid(row, column) ? Number.NaN : 0));
    const scan = scanHorizon([grid], { latitude: 56.5, longitude: -9.5 }, { stepDeg: 1, radiusM: 20_000 });
    expect(scan.altitudesDeg.every((altitude) => Math.abs(altitude - dipDeg(1.6)) < 1e-6)).toBe(true);
    scan.azimuthsDeg.forEach((azimuth, i) => {
      const aside = Math.abs(azimuth - 90);
      // 10 rows of 1/1200° over 100 columns, which are narrower by the cosine of the latitude: 10.3°, and a patch at each side
      if (aside <= 10 || aside >= 12) expect(scan.certain[i]).toBe(aside > 10);
    });
    // 100 columns of 1/1200° at 56.5° N
    expect(Math.abs((scan.reachesM[90] as number) - 5130)).toBeLessThan(60);
    expect(scan.unknownCells).toEqual([]);
  });

  it("never takes whole-number voids for heights", () => {
    const samples = new Int16Array(1201 * 1201).fill(-32768, 300 * 1201, 400 * 1201);
    const grid = new ElevationGrid({
      samples,
      rows: 1201,
      columns: 1201,
      northDeg: 57,
      westDeg: -10,
      latStepDeg: 1 / 1200,
      lonStepDeg: 1 / 1200,
      voidValue: -32768,
    });
    const scan = scanHorizon([grid], { latitude: 56.8, longitude: -9.5 }, { stepDeg: 10, radiusM: 20_000 });
    for (const altitude of scan.altitudesDeg) expect(altitude).toBeCloseTo(dipDeg(1.6), 6);
    expect(scan.certain[18]).toBe(false);
    expect(scan.certain[0]).toBe(true);
  });

  it("gives numbers even where all but the viewpoint is void, above the sea or below it", () => {
    for (const ground of [12, -400]) {
      const grid = gridOf(bounds, (_lat, _lon, row, column) => (row === 600 && column === 600 ? ground : Number.NaN));
      const scan = scanHorizon([grid], { latitude: 56.5, longitude: -9.5 }, { stepDeg: 30 });
      expect(scan.groundElevationM).toBe(ground);
      expect(scan.certain.some((certain) => certain)).toBe(false);
      for (const number of [...scan.altitudesDeg, ...scan.distancesM, ...scan.reachesM]) {
        expect(Number.isFinite(number)).toBe(true);
      }
      expect(Math.min(...scan.altitudesDeg)).toBeGreaterThan(-2);
    }
  });

  it("does not doubt what lies behind a wall that no ground could overtop", () => {
    const isVoid = (row: number) => row < 300;
    const grid = gridOf(bounds, (_lat, _lon, row) => (isVoid(row) ? Number.NaN : row === 595 ? 400 : 0));
    const scan = scanHorizon([grid], { latitude: 56.5, longitude: -9.5 }, { azimuthsDeg: [0], radiusM: 50_000 });
    expect(scan.altitudesDeg[0]).toBeGreaterThan(40);
    expect(scan.certain[0]).toBe(true);
  });

  it("counts ground that no grid covers as unknown, not as sea, and names its degree cells", () => {
    const land = gridOf({ ...bounds, rows: 1201, columns: 1201 }, () => 50);
    const scan = scanHorizon([land], { latitude: 56.5, longitude: -9.9 }, { azimuthsDeg: [90, 270], radiusM: 50_000 });
    expect(scan.certain).toEqual([true, false]);
    expect(scan.reachesM[0]).toBe(50_000);
    expect(Math.abs((scan.reachesM[1] as number) - 6160)).toBeLessThan(30);
    expect(scan.unknownCells).toEqual([
      { latitude: 56, longitude: -11, nearestM: expect.closeTo(6160, -2), azimuthIndices: [1] },
    ]);
  });

  it("counts the last cell between tiles of cell centres as covered", () => {
    const step = 1 / perDegree;
    const west = gridOf({ ...bounds, columns: 1200 }, () => 0);
    const east = gridOf({ ...bounds, west: -9, columns: 1200 }, () => 0);
    const scan = scanHorizon(
      [west, east],
      { latitude: 56.5, longitude: -9 - 20 * step },
      { azimuthsDeg: [90], radiusM: 20_000 },
    );
    expect(scan.certain).toEqual([true]);
    expect(scan.altitudesDeg[0]).toBeCloseTo(dipDeg(1.6), 6);
  });

  it.each([
    [{ latitude: 56.5, longitude: -9.5, eyeHeightM: 0.4 }, {}, "eyeHeightM", "out-of-range"],
    [{ latitude: 90.1, longitude: -9.5 }, {}, "latitude", "out-of-range"],
    [{ latitude: Number.NaN, longitude: -9.5 }, {}, "latitude", "out-of-range"],
    [{ latitude: 56.5, longitude: 181 }, {}, "longitude", "out-of-range"],
    [{ latitude: 56.5, longitude: -9.5 }, { radiusM: 1 }, "radiusM", "out-of-range"],
    [{ latitude: 56.5, longitude: -9.5 }, { stepDeg: 0 }, "stepDeg", "out-of-range"],
    [{ latitude: 56.5, longitude: -9.5 }, { azimuthsDeg: [3, 2] }, "azimuthsDeg.1", "out-of-range"],
    [{ latitude: 56.5, longitude: -9.5 }, { refractionCoefficient: 1 }, "refractionCoefficient", "out-of-range"],
    [{ latitude: 58, longitude: -9.5 }, {}, "latitude", "impossible"],
  ])("refuses %j with %j, naming %s", (viewpoint, options, param, code) => {
    const grid = gridOf({ ...bounds, rows: 1201, columns: 1201, perDegree: 1200 }, () => 0);
    const attempt = () => scanHorizon([grid], viewpoint, options);
    expect(attempt).toThrow(DomainError);
    expect(attempt).toThrow(expect.objectContaining({ param, code }));
  });
});
