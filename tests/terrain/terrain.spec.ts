import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { createTerrain, TileError } from "@fieldstop/terrain";
import { writeArrayBuffer } from "geotiff";
import { describe, expect, it } from "vitest";
import { folderWith, hgtBytes, placelessTiff } from "./made-tiles";

const ARDVANE = { latitude: 56.6, longitude: -9.4 };
const flat = hgtBytes(1201, () => 10);
/** A ridge of 600 m due north of 56.6° N, 6.6 km off: row 400 is 56.666° N. */
const ridge = hgtBytes(1201, (row) => (row === 400 ? 600 : 10));

const open = (files: Record<string, Uint8Array | string>) => createTerrain({ sources: [folderWith(files)] });

describe("a terrain of .hgt tiles", () => {
  it("answers the skyline with where it comes from", async () => {
    const terrain = await open({ "N56W010.hgt": ridge, "ATTRIBUTION.txt": "Ardvane Survey\n" });
    const horizon = await terrain.horizonAt({ ...ARDVANE, eyeHeightM: 2 }, { stepDeg: 1, radiusKm: 20 });
    expect(horizon?.profile.azimuthsDeg).toHaveLength(360);
    expect(horizon?.profile.altitudesDeg[0]).toBeCloseTo((Math.atan(588 / 7422 - 7422 / 14.646e6) * 180) / Math.PI, 2);
    expect(horizon?.profile.distancesM?.[0]).toBeCloseTo(7422, -2);
    expect(horizon).toMatchObject({
      viewpoint: { ...ARDVANE, groundElevationM: expect.closeTo(10, 6), eyeHeightM: 2 },
      source: { name: "SRTM tiles (.hgt)", resolutionM: 93, attribution: "Ardvane Survey" },
      missingTiles: [],
      uncertainAzimuthsDeg: [],
      refractionCoefficient: 0.13,
    });
    expect(horizon?.skyViewFactor).toBeGreaterThan(0.99);
    expect(horizon?.skyViewFactor).toBeLessThan(1);
  });

  it("takes the eye at 1.6 m and a quarter of a degree unless told otherwise", async () => {
    const terrain = await open({ "N56W010.hgt": flat });
    const horizon = await terrain.horizonAt(ARDVANE, { radiusKm: 10 });
    // flat ground has nothing to put azimuths between for
    expect(horizon?.profile.azimuthsDeg).toHaveLength(1440);
    expect(horizon?.viewpoint.eyeHeightM).toBe(1.6);
  });

  it("puts azimuths between where the skyline bends, unless a step is asked for", async () => {
    const tower = hgtBytes(1201, (row, column) => (row === 400 && column === 720 ? 600 : 10));
    const terrain = await open({ "N56W010.hgt": tower });
    const horizon = await terrain.horizonAt(ARDVANE, { radiusKm: 10 });
    const even = await terrain.horizonAt(ARDVANE, { radiusKm: 10, stepDeg: 0.25 });
    const { azimuthsDeg = [], altitudesDeg = [] } = horizon?.profile ?? {};
    expect(even?.profile.azimuthsDeg).toHaveLength(1440);
    expect(azimuthsDeg.length).toBeGreaterThan(1444);
    for (const [i, azimuth] of azimuthsDeg.entries()) {
      if (i > 0) expect(azimuth).toBeGreaterThan(azimuthsDeg[i - 1] as number);
      if (azimuth % 0.25 !== 0) continue;
      expect(altitudesDeg[i]).toBe(even?.profile.altitudesDeg[azimuth * 4]);
    }
  });

  it("names the tiles that are missing and the azimuths that they matter for", async () => {
    const terrain = await open({ "N56W010.hgt": flat });
    const horizon = await terrain.horizonAt({ latitude: 56.5, longitude: -9.98 }, { stepDeg: 1, radiusKm: 10 });
    expect(horizon?.missingTiles).toEqual([
      { name: "N56W011", reason: "absent", azimuthsDeg: horizon?.uncertainAzimuthsDeg },
    ]);
    const [[from, to] = [0, 0]] = horizon?.uncertainAzimuthsDeg ?? [];
    // the edge is 1.23 km west and the radius 10 km: 90° less asin(0.123) on either side
    expect(Math.abs(from - 187)).toBeLessThanOrEqual(1);
    expect(Math.abs(to - 353)).toBeLessThanOrEqual(1);
  });

  it("does not ask for tiles that could not be seen over what stands in front", async () => {
    const wall = hgtBytes(1201, (row, column) => (Math.hypot(row - 480, (column - 720) * 0.55) > 3 ? 2000 : 10));
    const terrain = await open({ "N56W010.hgt": wall });
    const horizon = await terrain.horizonAt(ARDVANE, { stepDeg: 2 });
    expect(Math.min(...(horizon?.profile.altitudesDeg ?? []))).toBeGreaterThan(60);
    expect(horizon?.missingTiles).toEqual([]);
    expect(horizon?.uncertainAzimuthsDeg).toEqual([]);
  });

  it("loads the neighbours that matter, whatever their packing and folder", async () => {
    const far = hgtBytes(1201, (row) => (row === 1100 ? 2000 : 10));
    const terrain = await open({ "a/N56W010.hgt": flat, "b/c/N57W010.hgt": far });
    const horizon = await terrain.horizonAt(ARDVANE, { stepDeg: 10, radiusKm: 100 });
    // 57.0833° N stands 53.8 km off
    expect(horizon?.profile.distancesM?.[0]).toBeCloseTo(53_800, -3);
    expect(horizon?.missingTiles.map((tile) => tile.name)).not.toContain("N57W010");
    expect(horizon?.missingTiles.map((tile) => tile.name)).toContain("N56W009");
  });

  it("answers the rest where a tile is bad, names it, and tries it again", async () => {
    const folder = folderWith({ "N56W010.hgt": flat, "N57W010.hgt": flat.subarray(0, 1000) });
    const terrain = await createTerrain({ sources: [folder] });
    const ask = () => terrain.horizonAt({ latitude: 56.95, longitude: -9.5 }, { stepDeg: 5, radiusKm: 12 });
    const before = await ask();
    expect(before?.profile.altitudesDeg).toHaveLength(72);
    expect(before?.missingTiles).toEqual([
      {
        name: "N57W010.hgt",
        reason: "unreadable",
        detail: expect.stringContaining("1000 bytes"),
        azimuthsDeg: before?.uncertainAzimuthsDeg,
      },
    ]);
    writeFileSync(
      join(folder, "N57W010.hgt"),
      hgtBytes(1201, (row) => (row === 1150 ? 900 : 10)),
    );
    const after = await ask();
    expect(after?.missingTiles).toEqual([]);
    expect(after?.profile.altitudesDeg[0]).toBeGreaterThan(4);
    rmSync(join(folder, "N57W010.hgt"));
    expect(await ask()).toBe(after);
  });

  it("fails by name where the tile at the viewpoint itself is bad", async () => {
    const terrain = await open({ "N56W010.hgt": flat.subarray(0, 10) });
    await expect(terrain.horizonAt(ARDVANE)).rejects.toThrow(TileError);
    await expect(terrain.horizonAt(ARDVANE)).rejects.toThrow(/N56W010\.hgt: 10 bytes/);
  });

  it("has no answer where no tile covers the viewpoint, or a void does", async () => {
    const terrain = await open({ "N56W010.hgt": hgtBytes(1201, () => -32768) });
    expect(await terrain.horizonAt({ latitude: 10, longitude: 10 })).toBeNull();
    expect(await terrain.groundElevationM(10, 10)).toBeNull();
    expect(await terrain.horizonAt(ARDVANE)).toBeNull();
    expect(await terrain.groundElevationM(ARDVANE.latitude, ARDVANE.longitude)).toBeNull();
  });

  it("gives the height of the ground between nodes, on edges and on corners", async () => {
    const slope = hgtBytes(1201, (row, column) => row + 2 * column);
    const terrain = await open({ "N56W010.hgt": slope });
    expect(await terrain.groundElevationM(57, -10)).toBeCloseTo(0, 6);
    expect(await terrain.groundElevationM(56, -9)).toBeCloseTo(3600, 6);
    expect(await terrain.groundElevationM(56.5, -9.5)).toBeCloseTo(1800, 6);
    expect(await terrain.groundElevationM(57 - 0.25 / 1200, -10 + 0.5 / 1200)).toBeCloseTo(1.25, 6);
  });

  it("takes the height of the ground from the next source where the first has a void", async () => {
    const sources = [
      folderWith({ "N56W010.hgt": hgtBytes(1201, () => -32768) }),
      folderWith({ "N56W010.hgt": hgtBytes(1201, () => 77) }),
    ];
    expect(await (await createTerrain({ sources })).groundElevationM(56.5, -9.5)).toBe(77);
  });

  it("finds the highest ground near a place, across the edge of a tile", async () => {
    const peak = hgtBytes(1201, (row, column) => (row === 600 && column === 2 ? 900 : 10));
    const terrain = await open({ "N56W010.hgt": flat, "N56W009.hgt": peak });
    const found = await terrain.highestNear(56.5, -9.001, 400);
    expect(found).toMatchObject({ groundElevationM: 900, latitude: expect.closeTo(56.5, 9) });
    expect(found?.longitude).toBeCloseTo(-9 + 2 / 1200, 9);
    // 2.667 thousandths of a degree at 56.5° N
    expect(found?.distanceM).toBeCloseTo(163.7, 0);
    expect((await terrain.highestNear(56.5, -9.001, 100))?.groundElevationM).toBe(10);
    expect(await terrain.highestNear(10, 10, 100)).toBeNull();
  });

  it("answers the same question once, and others apart", async () => {
    const terrain = await open({ "N56W010.hgt": ridge });
    const options = { stepDeg: 5, radiusKm: 20 };
    const [a, b] = await Promise.all([terrain.horizonAt(ARDVANE, options), terrain.horizonAt(ARDVANE, options)]);
    expect(b).toBe(a);
    expect(await terrain.horizonAt({ ...ARDVANE, eyeHeightM: 5 }, options)).not.toBe(a);
    expect(await terrain.horizonAt({ ...ARDVANE, elevationM: 300 }, options)).not.toBe(a);
    expect(await terrain.horizonAt(ARDVANE, { ...options, radiusKm: 5 })).not.toBe(a);
  });

  it.each([
    [{ latitude: 91, longitude: 0 }, {}, "latitude"],
    [{ latitude: 0, longitude: Number.NaN }, {}, "longitude"],
    [{ ...ARDVANE, eyeHeightM: 0 }, {}, "eyeHeightM"],
    [ARDVANE, { stepDeg: 0.01 }, "stepDeg"],
    [ARDVANE, { radiusKm: 1000 }, "radiusKm"],
  ])("refuses %j with %j, naming %s", async (viewpoint, options, param) => {
    const terrain = await open({ "N56W010.hgt": flat });
    await expect(terrain.horizonAt(viewpoint, options)).rejects.toMatchObject({ name: "DomainError", param });
  });

  it("changes its data version when a tile does", async () => {
    const folder = folderWith({ "N56W010.hgt": flat });
    const first = await createTerrain({ sources: [folder] });
    expect((await createTerrain({ sources: [folder] })).dataVersion).toBe(first.dataVersion);
    writeFileSync(join(folder, "N57W010.hgt"), flat);
    expect((await createTerrain({ sources: [folder] })).dataVersion).not.toBe(first.dataVersion);
  });

  it("stops at a folder that does not exist, or a file in its place", async () => {
    const folder = folderWith({ "plain.txt": "" });
    const gone = join(folder, "gone");
    await expect(createTerrain({ sources: [gone] })).rejects.toThrow(`FIELDSTOP_ELEVATION`);
    await expect(createTerrain({ sources: [gone] })).rejects.toThrow(gone);
    await expect(createTerrain({ sources: [join(folder, "plain.txt")] })).rejects.toThrow("FIELDSTOP_ELEVATION");
  });
});

describe("a terrain of GeoTIFFs", () => {
  const step = 1 / 600;
  interface Made {
    west?: number;
    north?: number;
    columns?: number;
    rows?: number;
    keys?: Record<string, unknown>;
    heightM?: (row: number, column: number) => number;
  }
  const tiff = ({ west = -10, north = 57, columns = 600, rows = 600, keys = {}, heightM = () => 10 }: Made) =>
    new Uint8Array(
      writeArrayBuffer(
        Float32Array.from({ length: rows * columns }, (_, i) => heightM(Math.floor(i / columns), i % columns)),
        {
          width: columns,
          height: rows,
          ModelPixelScale: [step, step, 0],
          ModelTiepoint: [0, 0, 0, west, north, 0],
          GTModelTypeGeoKey: 2,
          GeographicTypeGeoKey: 4326,
          GTRasterTypeGeoKey: 1,
          ...keys,
        },
      ),
    );
  const rowsAndColumns = (row: number, column: number) => row + 1000 * column;

  it("puts the sample of a cell at its middle, that of a point at the point", async () => {
    const place = [57 - 100.5 * step, -10 + 3.5 * step] as const;
    const cells = await open({ "strand.tif": tiff({ heightM: rowsAndColumns }) });
    expect(await cells.groundElevationM(...place)).toBeCloseTo(3100, 2);
    const points = await open({ "strand.tif": tiff({ heightM: rowsAndColumns, keys: { GTRasterTypeGeoKey: 2 } }) });
    expect(await points.groundElevationM(...place)).toBeCloseTo(3600.5, 2);
  });

  it("takes the tie point where it stands", async () => {
    const keys = { ModelTiepoint: [100, 200, 0, -10 + 100 * step, 57 - 200 * step, 0] };
    const terrain = await open({ "strand.tif": tiff({ heightM: rowsAndColumns, keys }) });
    expect(await terrain.groundElevationM(57 - 100.5 * step, -10 + 3.5 * step)).toBeCloseTo(3100, 2);
  });

  it("sees a ridge across two files of cells without a gap between them", async () => {
    const terrain = await open({
      "south.tif": tiff({}),
      "north.tif": tiff({ north: 58, heightM: (row) => (row === 560 ? 900 : 10) }),
    });
    const horizon = await terrain.horizonAt({ latitude: 56.95, longitude: -9.5 }, { stepDeg: 5, radiusKm: 20 });
    const distance = (57 + 39.5 * step - 56.95) * 111_300;
    expect(horizon?.profile.distancesM?.[0]).toBeCloseTo(distance, -2);
    expect(horizon?.uncertainAzimuthsDeg).toEqual([]);
    expect(horizon?.missingTiles).toEqual([]);
    expect(horizon?.source).toEqual({ name: "GeoTIFF", resolutionM: 185 });
  });

  it("reads a large file in blocks that meet", async () => {
    const terrain = await open({ "long.tif": tiff({ rows: 60, columns: 4500, heightM: (_row, column) => column }) });
    for (const column of [2046.5, 2047.5, 2048, 2048.5, 4095.5, 4096.25, 4498]) {
      expect(await terrain.groundElevationM(57 - 10.5 * step, -10 + (column + 0.5) * step)).toBeCloseTo(column, 2);
    }
  });

  it("goes before the sources that come after it", async () => {
    const first = folderWith({ "fine.tif": tiff({ heightM: () => 77 }) });
    const second = folderWith({ "N56W010.hgt": flat });
    const place = [56.5, -9.5] as const;
    expect(await (await createTerrain({ sources: [first, second] })).groundElevationM(...place)).toBeCloseTo(77, 6);
    expect(await (await createTerrain({ sources: [second, first] })).groundElevationM(...place)).toBeCloseTo(10, 6);
  });

  it("keeps samples marked as no data out of the ground", async () => {
    const hole = (row: number, column: number) => (row === 300 && column === 300 ? -9999 : 10);
    const terrain = await open({ "hole.tif": tiff({ heightM: hole, keys: { GDAL_NODATA: "-9999" } }) });
    expect(await terrain.groundElevationM(57 - 300.9 * step, -10 + 300.9 * step)).toBeNull();
    expect(await terrain.groundElevationM(57 - 303.5 * step, -10 + 303.5 * step)).toBeCloseTo(10, 6);
  });

  it.each([
    [
      "a projection that is not known",
      tiff({ keys: { GTModelTypeGeoKey: 1, ProjectedCSTypeGeoKey: 60001 } }),
      /EPSG:60001/,
    ],
    ["another datum", tiff({ keys: { GeographicTypeGeoKey: 4277 } }), /EPSG:4277/],
    ["no georeference", placelessTiff(10), /no coordinate system|no georeference/],
    ["its end cut off", tiff({}).subarray(0, 100), /does not open/],
    ["nothing in it", new Uint8Array(0), /does not open/],
    ["something else in it", "<!doctype html><title>Not found</title>", /does not open/],
  ])("names a file with %s in every answer, and answers from the rest", async (_what, bytes, reason) => {
    const folder = folderWith({ "grid.tif": bytes, "N56W010.hgt": ridge });
    const terrain = await createTerrain({ sources: [folder] });
    const ask = () => terrain.horizonAt(ARDVANE, { stepDeg: 5, radiusKm: 20 });
    const missing = { name: "grid.tif", reason: "unreadable", detail: expect.stringMatching(reason) };
    for (const horizon of [await ask(), await ask()]) {
      expect(horizon?.missingTiles).toEqual([{ ...missing, azimuthsDeg: [[0, 360]] }]);
      expect(horizon?.profile.altitudesDeg[0]).toBeGreaterThan(4);
      // all the ground within the radius is known
      expect(horizon?.uncertainAzimuthsDeg).toEqual([]);
    }
    expect(await terrain.horizonAt({ latitude: 10, longitude: 10 })).toBeNull();
    const before = terrain.dataVersion;
    writeFileSync(join(folder, "grid.tif"), tiff({ heightM: () => 50 }));
    expect((await ask())?.missingTiles).toEqual([]);
    expect(terrain.dataVersion).not.toBe(before);
  });

  it("names a badly named .hgt in every answer, and answers from the rest", async () => {
    const terrain = await open({ "strand.hgt": flat, "N56W010.hgt": flat });
    expect((await terrain.horizonAt(ARDVANE, { stepDeg: 5, radiusKm: 20 }))?.missingTiles).toEqual([
      {
        name: "strand.hgt",
        reason: "unreadable",
        detail: expect.stringContaining("tells no degree cell"),
        azimuthsDeg: [[0, 360]],
      },
    ]);
  });

  it("lets only its cell go where the name of a bad file tells it", async () => {
    const broken = tiff({}).subarray(0, 100);
    const terrain = await open({ "dem_N57_00_W010_00.tif": broken, "N56W010.hgt": flat });
    const horizon = await terrain.horizonAt({ latitude: 56.95, longitude: -9.5 }, { stepDeg: 5, radiusKm: 12 });
    expect(horizon?.missingTiles).toMatchObject([{ name: "dem_N57_00_W010_00.tif", reason: "unreadable" }]);
    expect(horizon?.missingTiles[0]?.azimuthsDeg).not.toEqual([[0, 360]]);
  });
});

describe("real tiles of an archipelago", () => {
  const folder = join(import.meta.dirname, "../../../shared/elevation");
  const truthOf = (name: string): string | null => {
    try {
      return readFileSync(join(folder, "truth", `${name}.json`), "utf8");
    } catch {
      return null;
    }
  };
  const places = ["pico", "horta", "graciosa", "tile_edge"].map((name) => ({ name, truth: truthOf(name) }));
  // four SRTM tiles and the brute-force skylines on them are too large for the repository: they lie beside it, or not at all
  const absent = places.some(({ truth }) => truth === null);
  const EFFECTIVE_RADIUS_M = 6_371_008.8 / (1 - 0.13);

  it.skipIf(absent).each(places)("agree with brute force at $name within 0.0001°", async ({ truth }) => {
    const { lat, lon, eye, ground, az, altitudeDeg, dend } = JSON.parse(truth as string) as {
      lat: number;
      lon: number;
      eye: number;
      ground: number;
      az: number[];
      altitudeDeg: number[];
      dend: number[];
    };
    const terrain = await createTerrain({ sources: [folder] });
    const horizon = await terrain.horizonAt({ latitude: lat, longitude: lon, eyeHeightM: eye }, { stepDeg: 0.5 });
    expect(horizon?.viewpoint.groundElevationM).toBeCloseTo(ground, 6);
    expect(horizon?.profile.azimuthsDeg).toEqual(az);
    expect(az).toHaveLength(720);
    const eyeM = ground + eye;
    let squares = 0;
    let worst = 0;
    az.forEach((_azimuth, i) => {
      // brute force ends with the data; we see the sea beyond it
      const seaM = Math.max(dend[i] as number, Math.sqrt(2 * EFFECTIVE_RADIUS_M * eyeM));
      const sea = (Math.atan(-eyeM / seaM - seaM / (2 * EFFECTIVE_RADIUS_M)) * 180) / Math.PI;
      const expected = Math.max(altitudeDeg[i] as number, sea);
      const error = Math.abs((horizon?.profile.altitudesDeg[i] as number) - expected);
      worst = Math.max(worst, error);
      squares += error ** 2;
    });
    expect(worst).toBeLessThan(0.0001);
    expect(Math.sqrt(squares / az.length)).toBeLessThan(0.00002);
  });
});
