import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { boxAround, cellFromName, cellName, cellsOf } from "../../../packages/terrain/src/tiles/degree-cell";

describe("degree cells", () => {
  it("have names that tell them", () => {
    fc.assert(
      fc.property(fc.integer({ min: -90, max: 89 }), fc.integer({ min: -180, max: 179 }), (latitude, longitude) => {
        expect(cellFromName(`${cellName({ latitude, longitude })}.hgt`)).toEqual({ latitude, longitude });
      }),
    );
  });

  it.each([
    ["S34E018.SRTMGL1.hgt.zip", { latitude: -34, longitude: 18 }],
    ["dem_10_N38_00_W029_00_x.tif", { latitude: 38, longitude: -29 }],
    ["n00e000.hgt", { latitude: 0, longitude: 0 }],
    ["N91E000.hgt", null],
    ["N10E1800.hgt", null],
    ["strand.tif", null],
    ["xN38W029.tif", null],
  ])("%s", (name, cell) => {
    expect(cellFromName(name)).toEqual(cell);
  });

  it("of a box share ground with it, edges left out, the antimeridian passed", () => {
    expect(cellsOf({ west: 8, east: 10, south: 56, north: 57 }).map(cellName)).toEqual(["N56E008", "N56E009"]);
    expect(cellsOf({ west: 179.5, east: 180.5, south: -0.5, north: 0.5 }).map(cellName)).toEqual([
      "S01E179",
      "S01W180",
      "N00E179",
      "N00W180",
    ]);
  });

  it("round a place hold what lies within the radius", () => {
    const box = boxAround(56.6, -9.4, 150);
    // 150 km are 1.35° of latitude, and 2.45° of longitude at 56.6°
    expect(box.north - 56.6).toBeGreaterThan(1.35);
    expect(box.north - 56.6).toBeLessThan(1.37);
    expect(-9.4 - box.west).toBeGreaterThan(2.45);
    expect(-9.4 - box.west).toBeLessThan(2.6);
  });
});
