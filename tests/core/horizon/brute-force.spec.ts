import { type ElevationGrid, scanHorizon } from "@fieldstop/core/horizon";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bruteForce } from "./brute-force";
import { gridOf, hills, noise } from "./grids";

interface Errors {
  count: number;
  maxDeg: number;
  rmsDeg: number;
}

/** How far the scan is from brute force where ground makes the skyline; where the sea does, brute force may only lie lower. */
function errors(
  grids: readonly ElevationGrid[],
  viewpoint: { latitude: number; longitude: number; eyeHeightM: number },
  azimuthsDeg: readonly number[],
  radiusM: number,
): Errors {
  const scan = scanHorizon(grids, viewpoint, { azimuthsDeg, radiusM });
  let maxDeg = 0;
  let squares = 0;
  azimuthsDeg.forEach((azimuth, i) => {
    const brute = bruteForce(grids, viewpoint.latitude, viewpoint.longitude, scan.eyeElevationM, azimuth, radiusM);
    const found = scan.altitudesDeg[i] as number;
    expect(Number.isFinite(found) && Number.isFinite(scan.distancesM[i])).toBe(true);
    // past the data there is the sea, which brute force does not know
    const bySea = (scan.distancesM[i] as number) > (scan.reachesM[i] as number) - 1;
    const error = bySea ? Math.max(0, brute.altitudeDeg - found) : Math.abs(found - brute.altitudeDeg);
    maxDeg = Math.max(maxDeg, error);
    squares += error * error;
  });
  return { count: azimuthsDeg.length, maxDeg, rmsDeg: Math.sqrt(squares / azimuthsDeg.length) };
}

const round = (count: number) => Array.from({ length: count }, (_, i) => (i * 360) / count);

describe("the scan against brute force", () => {
  it.each([
    ["0.1", 0.1],
    ["45.2", 45.2],
    ["57", 57],
    ["-33", -33],
  ])("finds every summit of rough hills at %s° of latitude", (_name, latitude) => {
    const random = noise(5);
    const bounds = { south: latitude - 0.2, west: -6.4, rows: 481, columns: 961, perDegree: 1200 };
    const grid = gridOf(bounds, (lat, lon) => hills(lat, lon) + 20 * random());
    const viewpoint = { latitude: latitude + 0.0003, longitude: -6.0007, eyeHeightM: 1.6 };
    const { count, maxDeg, rmsDeg } = errors([grid], viewpoint, round(90), 20_000);
    expect(count).toBe(90);
    expect(maxDeg).toBeLessThan(0.0003);
    expect(rmsDeg).toBeLessThan(0.0001);
  });

  it.each([
    ["45.2", 45.2, 0.001],
    ["60", 60, 0.001],
    ["69.9", 69.9, 0.005],
  ])("finds the right needle among thousands at %s° of latitude", (_name, latitude, allowedDeg) => {
    const random = noise(8);
    const bounds = { south: latitude - 0.1, west: -6.3, rows: 241, columns: 721, perDegree: 1200 };
    const grid = gridOf(bounds, () => 500 * random());
    const viewpoint = { latitude: latitude + 0.0003, longitude: -6.0007, eyeHeightM: 2 };
    const { maxDeg, rmsDeg } = errors([grid], viewpoint, round(180), 9000);
    expect(maxDeg).toBeLessThan(allowedDeg);
    expect(rmsDeg).toBeLessThan(allowedDeg / 5);
  });

  const perDegree = 1200;
  const random = noise(11);
  const bounds = { south: 45, west: 7, rows: 241, columns: 241, perDegree };
  const rough = gridOf(bounds, (lat, lon) => hills(lat, lon) + 30 * random());

  it.each([
    ["on a node", 45 + 100 / perDegree, 7 + 100 / perDegree],
    ["on a row", 45 + 100 / perDegree, 7 + 100.5 / perDegree],
    ["on a column", 45 + 100.5 / perDegree, 7 + 100 / perDegree],
    ["on the southern edge of the data", 45, 7.1],
    ["on the western edge", 45.1, 7],
    ["on the eastern edge", 45.1, 7 + 240 / perDegree],
    ["on the south-western corner", 45, 7],
    ["on the north-eastern corner", 45 + 240 / perDegree, 7 + 240 / perDegree],
  ])("loses nothing along the lines of the grid when the eye stands %s", (_where, latitude, longitude) => {
    const { count, maxDeg } = errors([rough], { latitude, longitude, eyeHeightM: 0.5 }, round(72), 9000);
    expect(count).toBe(72);
    expect(maxDeg).toBeLessThan(0.0005);
  });

  it("takes the ground of the finer grid where it lies over coarser ones", () => {
    const fine = gridOf({ south: 45.05, west: 7.05, rows: 361, columns: 361, perDegree: 3600 }, (lat, lon) =>
      hills(lat, lon),
    );
    const coarse = gridOf({ south: 44.5, west: 6.5, rows: 301, columns: 301, perDegree: 300 }, (lat, lon) =>
      hills(lat, lon),
    );
    for (const [latitude, longitude] of [
      [45.1, 7.1],
      [45.0512, 7.0497],
      [45.2303, 7.2201],
    ] as const) {
      const place = { latitude, longitude, eyeHeightM: 1.6 };
      expect(errors([fine, rough, coarse], place, round(60), 30_000).maxDeg).toBeLessThan(0.0015);
    }
  });

  it("takes the ground of the grids after it wherever a grid has voids", () => {
    const chance = noise(3);
    // a slanting border beyond which the finest says nothing, and single voids within
    const fine = gridOf({ south: 45.05, west: 7.05, rows: 361, columns: 361, perDegree: 3600 }, (lat, lon) =>
      lat - lon > 38.03 || chance() < 0.002 ? Number.NaN : hills(lat, lon),
    );
    const middling = gridOf(bounds, (lat, lon) => (chance() < 0.02 ? Number.NaN : hills(lat, lon)));
    const coarse = gridOf({ south: 44.5, west: 6.5, rows: 301, columns: 301, perDegree: 300 }, (lat, lon) =>
      hills(lat, lon),
    );
    const grids = [fine, middling, coarse];
    for (const [latitude, longitude] of [
      [45.1003, 7.1004],
      // beyond the border
      [45.1204, 7.0803],
      [45.2303, 7.2201],
    ] as const) {
      const place = { latitude, longitude, eyeHeightM: 5 };
      expect(errors(grids, place, round(60), 20_000).maxDeg).toBeLessThan(0.0015);
      const scan = scanHorizon(grids, place, { stepDeg: 10, radiusM: 20_000 });
      expect(scan.certain.every((certain) => certain)).toBe(true);
    }
    const alone = scanHorizon(
      [fine, middling],
      { latitude: 45.1003, longitude: 7.1004 },
      { stepDeg: 10, radiusM: 3000 },
    );
    expect(alone.certain.some((certain) => !certain)).toBe(true);
  });

  it("keeps its digits below the level of the sea", () => {
    const low = gridOf({ south: 31, west: 35, rows: 301, columns: 301, perDegree: 600 }, (lat, lon) =>
      Math.max(-430, 0.4 * hills(lat, lon) - 430),
    );
    const { maxDeg } = errors([low], { latitude: 31.25, longitude: 35.25, eyeHeightM: 1.6 }, round(60), 30_000);
    expect(maxDeg).toBeLessThan(0.0001);
  });

  it("gives a number and its distance in every direction, whatever is void and wherever the eye stands", () => {
    fc.assert(
      fc.property(
        fc.integer(),
        fc.integer({ min: 0, max: 12 }),
        fc.integer({ min: 0, max: 12 }),
        (seed, row, column) => {
          const chance = noise(seed);
          const side = { south: 20, west: 30, rows: 13, columns: 13, perDegree };
          const share = chance() * 0.5;
          const grid = gridOf(side, (_lat, _lon, r, c) =>
            chance() < share && (r !== row || c !== column) ? Number.NaN : 300 * chance(),
          );
          const latitude = 20 + (12 - row) / perDegree;
          const longitude = 30 + column / perDegree;
          const scan = scanHorizon([grid], { latitude, longitude }, { azimuthsDeg: round(48), radiusM: 3000 });
          expect(scan.altitudesDeg).toHaveLength(48);
          scan.azimuthsDeg.forEach((azimuth, i) => {
            const found = scan.altitudesDeg[i] as number;
            const alone = scanHorizon([grid], { latitude, longitude }, { azimuthsDeg: [azimuth], radiusM: 3000 });
            expect(Number.isFinite(found)).toBe(true);
            expect(Number.isFinite(scan.distancesM[i])).toBe(true);
            expect(alone.altitudesDeg[0]).toBe(found);
            expect(alone.distancesM[0]).toBe(scan.distancesM[i]);
          });
        },
      ),
      { numRuns: 150 },
    );
  });

  it("answers for an azimuth by itself as for one of many, whichever tiles are lacking", () => {
    fc.assert(
      fc.property(fc.integer(), fc.integer({ min: 1, max: 0x1ff }), fc.boolean(), (seed, present, nearPole) => {
        const chance = noise(seed);
        const coarse = nearPole ? 60 : 120;
        const south = nearPole ? 84.6 : -17.3;
        const height = (lat: number, lon: number) => hills(lat, lon) + (chance() < 0.01 ? 1500 * chance() : 0);
        const tiles = Array.from({ length: 9 }, (_, i) => i)
          .filter((i) => i === 4 || (present >> i) & 1)
          .map((i) => {
            const [row, column] = [Math.floor(i / 3), i % 3];
            const corner = { south: south + 0.5 * row, west: 0.5 * column + 179.1 };
            return gridOf({ ...corner, rows: coarse / 2 + 1, columns: coarse / 2 + 1, perDegree: coarse }, height);
          });
        const viewpoint = { latitude: south + 0.5 + 0.5 * chance(), longitude: 179.6 + 0.4 * chance(), eyeHeightM: 2 };
        const azimuthsDeg = round(60);
        const many = scanHorizon(tiles, viewpoint, { azimuthsDeg, radiusM: 90_000 });
        azimuthsDeg.forEach((azimuth, i) => {
          const one = scanHorizon(tiles, viewpoint, { azimuthsDeg: [azimuth], radiusM: 90_000 });
          expect(many.altitudesDeg[i]).toBe(one.altitudesDeg[0]);
          expect(many.distancesM[i]).toBe(one.distancesM[0]);
          expect(many.reachesM[i]).toBe(one.reachesM[0]);
          expect(many.certain[i]).toBe(one.certain[0]);
          const cells = many.unknownCells.filter((cell) => cell.azimuthIndices.includes(i));
          expect(cells.map((cell) => [cell.latitude, cell.longitude]).sort()).toEqual(
            one.unknownCells.map((cell) => [cell.latitude, cell.longitude]).sort(),
          );
        });
      }),
      { numRuns: 30 },
    );
  });
});
