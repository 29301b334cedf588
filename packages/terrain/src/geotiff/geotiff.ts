import { ElevationGrid, type ElevationSamples } from "@fieldstop/core/horizon";
import type { GeoTIFF, GeoTIFFImage } from "geotiff";
import type { Box } from "../tiles/degree-cell";
import { TileError } from "../tiles/tile-error";
import { geoKeysOf, georeferenceOf } from "./georeference";
import { readWindow, type SampleWindow } from "./geotiff-window";
import { type DegreeLattice, latticeOf, type ProjectedRaster, resampledBlock } from "./projected-raster";

export const isGeoTiff = (name: string): boolean => /\.tiff?$/i.test(name);

/** A GeoTIFF's raster, as nodes: where they lie and how to read them. */
export interface GeoTiffRaster extends DegreeLattice {
  readonly image: GeoTIFFImage;
  /** Each sample stands for a cell, not a point: neighbours leave a cell between their nodes. */
  readonly cells: boolean;
  readonly voidValue: number | undefined;
  /** The raster itself where it is in the coordinates of a map projection and the nodes are what it is resampled to. */
  readonly projected?: ProjectedRaster;
}

/** Blocks that a file may come to: 3″ all over the world. */
const MOST_BLOCKS = 25_000;

/** Patches on a side of the blocks that a raster is read in, so that a continent in one file fits in memory. */
const BLOCK = 2048;

// OGC 19-008r4, GeoTIFF 1.1, table for GTModelTypeGeoKey
const MODEL_PROJECTED = 1;
const MODEL_GEOGRAPHIC = 2;
// EPSG registry: WGS 84, WGS 84 (3D), NAD83, ETRS89, GDA94, GDA2020, JGD2011, NZGD2000, SIRGAS 2000: all within 2 m of WGS 84
const GEOGRAPHIC_CODES: ReadonlySet<number> = new Set([4326, 4979, 4269, 4258, 4283, 7844, 6668, 4167, 4674]);
// EPSG registry, units of measure
const METRE = 9001;

/**
 * Where the nodes of a GeoTIFF lie, from its header alone. The first image counts, which is the one of full resolution: overviews
 * are left aside, since a coarser ridge is a lower one.
 *
 * @throws TileError naming the file: a projection that is not known, no georeference, rotated, more than one band
 */
export async function openGeoTiff(name: string, tiff: GeoTIFF): Promise<GeoTiffRaster> {
  const raster = await rasterOf(name, tiff);
  requireOnEarth(name, raster);
  return raster;
}

async function rasterOf(name: string, tiff: GeoTIFF): Promise<GeoTiffRaster> {
  const image = await tiff.getImage(0);
  const keys = geoKeysOf(image);
  const columns = image.getWidth();
  const rows = image.getHeight();
  if (rows < 2 || columns < 2) throw new TileError(name, `${rows} × ${columns} samples make no ground`);
  if (image.getSamplesPerPixel() !== 1) throw new TileError(name, "more than one band: which holds the heights?");
  const unit = keys["VerticalUnitsGeoKey"];
  if (unit !== undefined && unit !== METRE) {
    throw new TileError(name, `heights in the unit EPSG:${String(unit)}; metres are needed`);
  }
  const noData = image.getGDALNoData();
  const voidValue = noData === null ? undefined : noData;
  const isProjected = keys["GTModelTypeGeoKey"] === MODEL_PROJECTED || keys["ProjectedCSTypeGeoKey"] !== undefined;
  if (isProjected) {
    const place = georeferenceOf(name, image);
    // its registry of projections is larger than all else together, and most grids are in degrees
    const { projectionOf } = await import("./projection");
    const projected: ProjectedRaster = { image, projection: projectionOf(name, keys), place, voidValue };
    return { ...latticeOf(name, projected), image, cells: false, voidValue, projected };
  }
  requireGeographic(name, keys);
  const { x, y, stepX, stepY, cells } = georeferenceOf(name, image);
  const half = cells ? 0.5 : 0;
  return {
    image,
    // the origin is the corner of the first cell, or the first node itself
    westDeg: tidy(x + half * stepX),
    northDeg: tidy(y + half * stepY),
    latStepDeg: -stepY,
    lonStepDeg: stepX,
    rows,
    columns,
    cells,
    voidValue,
  };
}

/**
 * What a header says may be anything: it must make sense before anything is made of it.
 * @throws TileError naming the file
 */
function requireOnEarth(name: string, raster: GeoTiffRaster): void {
  const { rows, columns, northDeg, westDeg, latStepDeg, lonStepDeg } = raster;
  const blocks = Math.ceil((rows - 1) / BLOCK) * Math.ceil((columns - 1) / BLOCK);
  if (!(blocks <= MOST_BLOCKS)) {
    throw new TileError(name, `${rows} × ${columns} samples are more than one file may have: split it`);
  }
  const southDeg = northDeg - rows * latStepDeg;
  const eastDeg = westDeg + columns * lonStepDeg;
  // some grids of the world have nodes on both sides of the poles and of the antimeridian
  const slopDeg = 1;
  const isOnEarth =
    northDeg <= 90 + slopDeg &&
    southDeg >= -90 - slopDeg &&
    eastDeg - westDeg <= 360 + slopDeg &&
    westDeg >= -360 - slopDeg &&
    eastDeg <= 540 + slopDeg;
  if (!isOnEarth) throw new TileError(name, "by its georeference it leaves the Earth");
}

/** Blocks of a raster; each shares its edge nodes with the next. */
export function blocksOf({ rows, columns }: GeoTiffRaster): SampleWindow[] {
  const blocks: SampleWindow[] = [];
  for (let firstRow = 0; firstRow < rows - 1; firstRow += BLOCK) {
    for (let firstColumn = 0; firstColumn < columns - 1; firstColumn += BLOCK) {
      blocks.push({
        firstRow,
        firstColumn,
        rows: Math.min(BLOCK + 1, rows - firstRow),
        columns: Math.min(BLOCK + 1, columns - firstColumn),
      });
    }
  }
  return blocks;
}

/** The bounds of a block's ground. */
export function blockBox(raster: GeoTiffRaster, block: SampleWindow): Box {
  const { padRows, padColumns } = padding(raster, block);
  const north = raster.northDeg - block.firstRow * raster.latStepDeg;
  const west = raster.westDeg + block.firstColumn * raster.lonStepDeg;
  return {
    north,
    west,
    south: north - (block.rows - 1 + padRows) * raster.latStepDeg,
    east: west + (block.columns - 1 + padColumns) * raster.lonStepDeg,
  };
}

/** @throws TileError naming the file where the samples cannot be read */
export async function readGeoTiffBlock(
  name: string,
  raster: GeoTiffRaster,
  block: SampleWindow,
): Promise<ElevationGrid> {
  if (raster.projected !== undefined) return resampledBlock(name, raster.projected, raster, block);
  const { rows, columns } = block;
  const read = await readWindow(name, raster.image, block);
  const { padRows, padColumns } = padding(raster, block);
  const box = blockBox(raster, block);
  return new ElevationGrid({
    samples: padded(read, rows, columns, padRows, padColumns),
    rows: rows + padRows,
    columns: columns + padColumns,
    northDeg: box.north,
    westDeg: box.west,
    latStepDeg: raster.latStepDeg,
    lonStepDeg: raster.lonStepDeg,
    voidValue: raster.voidValue,
  });
}

/** Where samples stand for cells, the last row and column are drawn out by one cell, so that neighbouring files meet. */
function padding(raster: GeoTiffRaster, block: SampleWindow): { padRows: number; padColumns: number } {
  return {
    padRows: raster.cells && block.firstRow + block.rows === raster.rows ? 1 : 0,
    padColumns: raster.cells && block.firstColumn + block.columns === raster.columns ? 1 : 0,
  };
}

function padded(
  read: ArrayLike<number>,
  rows: number,
  columns: number,
  padRows: number,
  padColumns: number,
): ElevationSamples {
  const width = columns + padColumns;
  const length = width * (rows + padRows);
  const samples = read instanceof Int16Array ? new Int16Array(length) : new Float32Array(length);
  for (let row = 0; row < rows + padRows; row++) {
    const from = Math.min(row, rows - 1) * columns;
    for (let column = 0; column < width; column++) {
      samples[row * width + column] = read[from + Math.min(column, columns - 1)] as number;
    }
  }
  return samples;
}

function requireGeographic(name: string, keys: Readonly<Record<string, unknown>>): void {
  const geographic = keys["GeographicTypeGeoKey"];
  const model = keys["GTModelTypeGeoKey"];
  if (model !== undefined && model !== MODEL_GEOGRAPHIC) {
    throw new TileError(name, `coordinate model ${String(model)} is neither geographic nor projected`);
  }
  if (typeof geographic !== "number") throw new TileError(name, "no coordinate system; EPSG:4326 or alike is needed");
  if (!GEOGRAPHIC_CODES.has(geographic)) {
    throw new TileError(name, `coordinate system EPSG:${geographic} is not known to lie on WGS 84`);
  }
}

/** Writers print steps such as 1/3600 with rounding: a corner a billionth of a degree off a neat one is that one. */
function tidy(deg: number): number {
  const seconds = deg * 36_000;
  return Math.abs(seconds - Math.round(seconds)) < 1e-4 ? Math.round(seconds) / 36_000 : deg;
}
