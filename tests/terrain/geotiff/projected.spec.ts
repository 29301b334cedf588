import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { createTerrain } from "@fieldstop/terrain";
import { writeArrayBuffer } from "geotiff";
import proj4 from "proj4";
import { describe, expect, it } from "vitest";
import { hgtBytes, temporaryFolder } from "../made-tiles";

const UTM_29N = "+proj=utm +zone=29 +datum=WGS84 +units=m +no_defs";
const CELL_M = 100;
/** The north-west corner of the ground [m]: 100 km west of the strand, where north by the grid is 1.4° off north. */
const CORNER = { x: 375_000, y: 6_290_000 };
const heightAt = (x: number, y: number) => 500 + (x - CORNER.x) / 100 + (y - CORNER.y) / 50;

interface Made {
  /** Cells east and south of the corner. */
  east?: number;
  south?: number;
  side?: number;
  keys?: Record<string, unknown>;
  heightM?: (x: number, y: number) => number;
}

function utm({ east = 0, south = 0, side = 200, keys = {}, heightM = heightAt }: Made): Uint8Array {
  const x = CORNER.x + east * CELL_M;
  const y = CORNER.y - south * CELL_M;
  const samples = Float32Array.from({ length: side * side }, (_, i) =>
    heightM(x + ((i % side) + 0.5) * CELL_M, y - (Math.floor(i / side) + 0.5) * CELL_M),
  );
  return new Uint8Array(
    writeArrayBuffer(samples, {
      width: side,
      height: side,
      ModelPixelScale: [CELL_M, CELL_M, 0],
      ModelTiepoint: [0, 0, 0, x, y, 0],
      GTModelTypeGeoKey: 1,
      ProjectedCSTypeGeoKey: 32629,
      GTRasterTypeGeoKey: 1,
      ...keys,
    }),
  );
}

function open(files: Record<string, Uint8Array>) {
  const folder = temporaryFolder();
  for (const [name, bytes] of Object.entries(files)) writeFileSync(join(folder, name), bytes);
  return createTerrain({ sources: [folder] });
}

/** Latitude and longitude of a point of the grid. */
const place = (x: number, y: number): [number, number] => {
  const [longitude, latitude] = proj4(UTM_29N, "WGS84", [x, y]);
  return [latitude, longitude];
};

describe("a GeoTIFF in a map projection", () => {
  it("has an inclined plane where it was", async () => {
    const terrain = await open({ "strand.tif": utm({}) });
    for (const [east, south] of [
      [1000, 1000],
      [19_000, 500],
      [333, 18_777],
      [10_050, 9950],
      [160, 160],
    ] as const) {
      const [x, y] = [CORNER.x + east, CORNER.y - south];
      expect(await terrain.groundElevationM(...place(x, y))).toBeCloseTo(heightAt(x, y), 1);
    }
    expect(await terrain.groundElevationM(...place(CORNER.x - 1000, CORNER.y))).toBeNull();
  });

  it("counts points as points, and takes a mirrored order of axes in the registry for eastings first", async () => {
    const points = await open({ "strand.tif": utm({ keys: { GTRasterTypeGeoKey: 2 } }) });
    const [x, y] = [CORNER.x + 5000, CORNER.y - 5000];
    // the samples moved by half a cell to the north-west: what was half a cell south-east is now here
    expect(await points.groundElevationM(...place(x, y))).toBeCloseTo(heightAt(x + 50, y - 50), 1);
  });

  it("meets its neighbours without a gap, though the grid is askew to the meridians", async () => {
    const terrain = await open({ "a.tif": utm({}), "b.tif": utm({ east: 200 }), "c.tif": utm({ south: 200 }) });
    for (let south = 5050; south < 15_000; south += 397) {
      for (const east of [19_900, 19_960, 20_000, 20_040, 20_100]) {
        const [x, y] = [CORNER.x + east, CORNER.y - south];
        const found = await terrain.groundElevationM(...place(x, y));
        // the last cell is drawn out: up to a cell's rise
        expect(Math.abs((found ?? Number.NaN) - heightAt(x, y))).toBeLessThan(3);
      }
    }
    const [latitude, longitude] = place(CORNER.x + 20_000, CORNER.y - 10_000);
    const horizon = await terrain.horizonAt({ latitude, longitude, eyeHeightM: 2 }, { stepDeg: 2, radiusKm: 8 });
    expect(horizon?.uncertainAzimuthsDeg).toEqual([]);
    expect(horizon?.missingTiles).toEqual([]);
  });

  it("lies on coarser ground without a rim of unknown ground", async () => {
    const terrain = await open({
      "a.tif": utm({}),
      "N56W012.hgt": hgtBytes(1201, () => 50),
      "N56W011.hgt": hgtBytes(1201, () => 50),
    });
    expect(await terrain.groundElevationM(...place(CORNER.x - 500, CORNER.y - 10_000))).toBeCloseTo(50, 6);
    const [latitude, longitude] = place(CORNER.x + 10_000, CORNER.y - 10_000);
    const horizon = await terrain.horizonAt({ latitude, longitude, eyeHeightM: 2 }, { stepDeg: 2, radiusKm: 20 });
    expect(horizon?.uncertainAzimuthsDeg).toEqual([]);
  });

  it.each([
    ["a datum of its own", { ProjectedCSTypeGeoKey: 27700 }, /EPSG:27700 is of a datum/],
    ["a projection that is not known", { ProjectedCSTypeGeoKey: 60001 }, /not understood \(EPSG:60001\)/],
    [
      "one that it describes itself but leaves out",
      { ProjectedCSTypeGeoKey: 32767 },
      /not understood \(a user-defined/,
    ],
    ["heights in feet", { VerticalUnitsGeoKey: 9002 }, /unit EPSG:9002; metres/],
  ])("is named where it has %s", async (_what, keys, detail) => {
    const terrain = await open({ "strand.tif": utm({ keys }), "N56W010.hgt": hgtBytes(1201, () => 50) });
    const horizon = await terrain.horizonAt({ latitude: 56.5, longitude: -9.5 }, { stepDeg: 10, radiusKm: 5 });
    expect(horizon?.missingTiles).toEqual([
      { name: "strand.tif", reason: "unreadable", detail: expect.stringMatching(detail), azimuthsDeg: [[0, 360]] },
    ]);
  });
});
