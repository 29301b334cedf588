import { execFileSync, spawnSync } from "node:child_process";
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { createTerrain, type Terrain } from "@fieldstop/terrain";
import { fromFile } from "geotiff";
import { beforeAll, describe, expect, it } from "vitest";
import { readTile } from "../../demo/ground";
import { temporaryFolder } from "../made-tiles";

const tools = ["gdal_translate", "gdalwarp", "gdaladdo", "gdallocationinfo"];
const missing = tools.filter((tool) => spawnSync(tool, ["--version"]).error !== undefined);
const reason =
  missing.length === 0 ? "" : ` (skipped: ${missing.join(", ")} not on the PATH; Debian has them in gdal-bin)`;

const STRAND = { latitude: 56.6, longitude: -9.4 };

describe.skipIf(missing.length > 0)(`files made by GDAL${reason}`, () => {
  const folder = temporaryFolder();
  const run = (tool: string, ...args: string[]) =>
    execFileSync(tool, args, { cwd: folder, encoding: "utf8", stdio: ["pipe", "pipe", "pipe"] });
  /** A folder of its own for one file, so that a terrain can be made of it alone. */
  const only = (name: string) => {
    mkdirSync(join(folder, name), { recursive: true });
    return join(name, "ardvane.tif");
  };
  const terrainOf = (name: string) => createTerrain({ sources: [join(folder, name)] });
  const tiled = ["-co", "TILED=YES", "-co", "COMPRESS=DEFLATE", "-co", "PREDICTOR=2"];
  let hgt: Terrain;

  beforeAll(async () => {
    const tile = readTile("N56W010");
    mkdirSync(join(folder, "hgt"));
    writeFileSync(join(folder, "hgt/N56W010.hgt"), new Uint8Array(tile.buffer, tile.byteOffset, tile.byteLength));
    const source = "hgt/N56W010.hgt";
    run("gdal_translate", "-q", source, only("cells-int16"), "-ot", "Int16", "-mo", "AREA_OR_POINT=Area", ...tiled);
    run("gdaladdo", "-q", only("cells-int16"), "2", "4", "8");
    run(
      "gdal_translate",
      "-q",
      source,
      only("points-float32"),
      "-ot",
      "Float32",
      "-co",
      "COMPRESS=DEFLATE",
      "-co",
      "PREDICTOR=3",
    );
    run("gdal_translate", "-q", source, only("cog"), "-of", "COG", "-co", "COMPRESS=DEFLATE");
    // 12 km about the strand, in cells so fine that hardly anything of the ground between the tile's nodes is lost
    const box = ["-te", "469000", "6267000", "481000", "6279000", "-tr", "5", "5"];
    const utm = ["-q", "-t_srs", "EPSG:32629", "-r", "bilinear", "-dstnodata", "-32768", ...box];
    run("gdalwarp", ...utm, "-ot", "Float32", ...tiled.slice(0, 4), source, only("utm-float32"));
    run("gdaladdo", "-q", "-r", "average", only("utm-float32"), "2", "4", "8");
    run("gdalwarp", ...utm, "-ot", "Int16", ...tiled, source, only("utm-int16"));
    // points rather than cells, and a third of the ground void
    const points = ["-mo", "AREA_OR_POINT=Point", "-a_nodata", "0"];
    run("gdal_translate", "-q", ...points, only("utm-int16"), only("utm-points"));
    hgt = await terrainOf("hgt");
  }, 60_000);

  it.each(["cells-int16", "points-float32", "cog"])(
    "reads the samples of %s as gdallocationinfo does",
    async (name) => {
      const terrain = await terrainOf(name);
      const places = Array.from({ length: 200 }, (_, i) => {
        const row = 400 + ((i * 37) % 160);
        const column = 600 + ((i * 101) % 240);
        return { latitude: 57 - row / 1200, longitude: -10 + column / 1200 };
      });
      const input = places.map(({ latitude, longitude }) => `${longitude} ${latitude}`).join("\n");
      const answered = execFileSync("gdallocationinfo", ["-valonly", "-wgs84", only(name)], {
        cwd: folder,
        input,
        encoding: "utf8",
      });
      const heights = answered.trim().split("\n").map(Number);
      expect(heights).toHaveLength(200);
      expect(new Set(heights).size).toBeGreaterThan(20);
      for (const [i, { latitude, longitude }] of places.entries()) {
        expect(await terrain.groundElevationM(latitude, longitude)).toBeCloseTo(heights[i] as number, 4);
      }
    },
  );

  it.each([
    ["utm-float32", 0.9, 0.001],
    ["utm-int16", 0.9, 0.001],
    ["utm-points", 0.4, 0.001],
  ])(
    "resamples %s as gdalwarp does, node by node (a share of %f with heights), within %f m",
    async (name, share, tolerance) => {
      const { openGeoTiff, readGeoTiffBlock } = await import("../../../packages/terrain/src/geotiff/geotiff");
      const tiff = await fromFile(join(folder, only(name)));
      const raster = await openGeoTiff(name, tiff);
      const { northDeg, westDeg, latStepDeg, lonStepDeg, rows, columns } = raster;
      const edges = [
        westDeg - lonStepDeg / 2,
        northDeg + latStepDeg / 2 - rows * latStepDeg,
        westDeg - lonStepDeg / 2 + columns * lonStepDeg,
        northDeg + latStepDeg / 2,
      ].map((edge) => edge.toFixed(15));
      run(
        "gdalwarp",
        "-q",
        "-overwrite",
        "-t_srs",
        "EPSG:4326",
        "-te",
        ...edges,
        "-ts",
        String(columns),
        String(rows),
        "-r",
        "bilinear",
        "-et",
        "0",
        "-ovr",
        "NONE",
        "-ot",
        "Float32",
        "-dstnodata",
        "nan",
        only(name),
        `${name}-back.tif`,
      );
      const back = await (await fromFile(join(folder, `${name}-back.tif`))).getImage();
      const theirs = (await back.readRasters({ interleave: true })) as unknown as Float32Array;
      const { samples } = await readGeoTiffBlock(name, raster, { firstRow: 0, firstColumn: 0, rows, columns });
      let compared = 0;
      let worst = 0;
      samples.forEach((height, i) => {
        const other = theirs[i] as number;
        if (Number.isNaN(height) || Number.isNaN(other)) return;
        compared++;
        worst = Math.max(worst, Math.abs(height - other));
      });
      expect(compared).toBeGreaterThan(share * rows * columns);
      expect(worst).toBeLessThan(tolerance);
    },
  );

  it.each([
    ["cells-int16", 0, 1e-9],
    ["points-float32", 0, 1e-9],
    ["cog", 0, 1e-9],
    ["utm-float32", 0, 0.05],
    // heights rounded to the metre tell on ground near by
    ["utm-int16", 1000, 0.05],
  ])("sees the horizon of the .hgt from the strand in %s, beyond %i m within %f°", async (name, beyondM, tolerance) => {
    const ask = async (terrain: Terrain) =>
      (await terrain.horizonAt({ ...STRAND, elevationM: 10, eyeHeightM: 1.6 }, { stepDeg: 0.5, radiusKm: 5.5 }))
        ?.profile;
    const expected = await ask(hgt);
    const found = await ask(await terrainOf(name));
    const errors: number[] = [];
    expected?.altitudesDeg.forEach((altitude, i) => {
      if ((expected.distancesM[i] as number) < beyondM) return;
      errors.push(Math.abs(altitude - (found?.altitudesDeg[i] as number)));
    });
    expect(errors.length).toBeGreaterThanOrEqual(beyondM === 0 ? 720 : 400);
    expect(Math.max(...errors)).toBeLessThan(tolerance);
    expect(Math.max(...(expected?.altitudesDeg ?? []))).toBeGreaterThan(2);
  });
});
