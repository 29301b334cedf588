import { ElevationGrid, type ElevationSamples } from "@fieldstop/core/horizon";
import type { GeoTIFF, GeoTIFFImage } from "geotiff";
import type { Box } from "./degree-cell";
import { TileError } from "./tile-error";

export const isGeoTiff = (name: string): boolean => /\.tiff?$/i.test(name);

/** A GeoTIFF's raster, as nodes: where they lie and how to read them. */
export interface GeoTiffRaster {
  readonly image: GeoTIFFImage;
  readonly northDeg: number;
  readonly westDeg: number;
  readonly latStepDeg: number;
  readonly lonStepDeg: number;
  readonly rows: number;
  readonly columns: number;
  /** Each sample stands for a cell, not a point: neighbours leave a cell between their nodes. */
  readonly cells: boolean;
  readonly voidValue: number | undefined;
}

/** A rectangle of a raster's nodes. */
export interface RasterBlock {
  readonly firstRow: number;
  readonly firstColumn: number;
  readonly rows: number;
  readonly columns: number;
}

/** Patches on a side of the blocks that a raster is read in, so that a continent in one file fits in memory. */
const BLOCK = 2048;

// OGC 19-008r4, GeoTIFF 1.1, tables for GTModelTypeGeoKey and GTRasterTypeGeoKey
const MODEL_GEOGRAPHIC = 2;
const RASTER_PIXEL_IS_POINT = 2;
// EPSG registry: WGS 84, WGS 84 (3D), NAD83, ETRS89, GDA94, GDA2020, JGD2011, NZGD2000, SIRGAS 2000: all within 2 m of WGS 84
const GEOGRAPHIC_CODES: ReadonlySet<number> = new Set([4326, 4979, 4269, 4258, 4283, 7844, 6668, 4167, 4674]);
const USER_DEFINED = 32767;

/**
 * Where the nodes of a GeoTIFF lie, from its header alone.
 * @throws TileError naming the file: projected, no georeference, rotated, more than one band
 */
export async function openGeoTiff(name: string, tiff: GeoTIFF): Promise<GeoTiffRaster> {
  const image = await tiff.getImage(0);
  const keys: Readonly<Record<string, unknown>> = (image.getGeoKeys() as Record<string, unknown> | null) ?? {};
  requireGeographic(name, keys);
  const { origin, resolution } = georeference(name, image);
  const columns = image.getWidth();
  const rows = image.getHeight();
  const [lonStepDeg = 0, latStep = 0] = resolution;
  if (!(lonStepDeg > 0 && latStep < 0))
    throw new TileError(name, "rows must run from north to south, columns eastward");
  if (rows < 2 || columns < 2) throw new TileError(name, `${rows} × ${columns} samples make no ground`);
  if (image.getSamplesPerPixel() !== 1) throw new TileError(name, "more than one band: which holds the heights?");
  const cells = keys["GTRasterTypeGeoKey"] !== RASTER_PIXEL_IS_POINT;
  const half = cells ? 0.5 : 0;
  const noData = image.getGDALNoData();
  return {
    image,
    // the origin is the corner of the first cell, or the first node itself
    westDeg: tidy((origin[0] as number) + half * lonStepDeg),
    northDeg: tidy((origin[1] as number) + half * latStep),
    latStepDeg: -latStep,
    lonStepDeg,
    rows,
    columns,
    cells,
    voidValue: noData === null ? undefined : noData,
  };
}

/** Blocks of a raster; each shares its edge nodes with the next. */
export function blocksOf({ rows, columns }: GeoTiffRaster): RasterBlock[] {
  const blocks: RasterBlock[] = [];
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
export function blockBox(raster: GeoTiffRaster, block: RasterBlock): Box {
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
  block: RasterBlock,
): Promise<ElevationGrid> {
  const { firstRow, firstColumn, rows, columns } = block;
  let read: ArrayLike<number>;
  try {
    const window = [firstColumn, firstRow, firstColumn + columns, firstRow + rows];
    read = (await raster.image.readRasters({ window, interleave: true })) as unknown as ArrayLike<number>;
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new TileError(name, `the samples cannot be read (${why}): truncated or damaged`, { cause: error });
  }
  if (read.length !== rows * columns) throw new TileError(name, `${read.length} samples, not ${rows} × ${columns}`);
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
function padding(raster: GeoTiffRaster, block: RasterBlock): { padRows: number; padColumns: number } {
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
  const projected = keys["ProjectedCSTypeGeoKey"];
  if (typeof projected === "number") {
    const code = projected === USER_DEFINED ? "a user-defined projection" : `EPSG:${projected}`;
    throw new TileError(name, `projected (${code}); heights must be in geographic coordinates, such as EPSG:4326`);
  }
  const geographic = keys["GeographicTypeGeoKey"];
  const model = keys["GTModelTypeGeoKey"];
  if (model !== undefined && model !== MODEL_GEOGRAPHIC) {
    throw new TileError(name, `coordinate model ${String(model)} is not geographic`);
  }
  if (typeof geographic !== "number") throw new TileError(name, "no coordinate system; EPSG:4326 or alike is needed");
  if (!GEOGRAPHIC_CODES.has(geographic)) {
    throw new TileError(name, `coordinate system EPSG:${geographic} is not known to lie on WGS 84`);
  }
}

/** Where the first sample lies and the steps, from the affine transformation or from the tie point and scale (GeoTIFF 1.1, 7.5). */
function georeference(name: string, image: GeoTIFFImage): { origin: number[]; resolution: number[] } {
  const tag = (key: "ModelTransformation" | "ModelPixelScale" | "ModelTiepoint"): number[] | undefined => {
    const value: unknown = image.fileDirectory.getValue(key);
    return value === undefined || value === null ? undefined : Array.from(value as ArrayLike<number>);
  };
  const [a, b, , x, c, d, , y] = tag("ModelTransformation") ?? [];
  if (a !== undefined && d !== undefined && x !== undefined && y !== undefined) {
    if (b !== 0 || c !== 0) throw new TileError(name, "the raster is rotated; rows must run along parallels");
    return { origin: [x, y], resolution: [a, d] };
  }
  const [lonStep, latStep] = tag("ModelPixelScale") ?? [];
  const [column, row, , lon, lat, , ...others] = tag("ModelTiepoint") ?? [];
  if (lonStep === undefined || latStep === undefined || column === undefined || row === undefined) {
    throw new TileError(name, "no georeference in the file");
  }
  if (lon === undefined || lat === undefined || others.length > 0) {
    throw new TileError(name, "one tie point is needed, no more");
  }
  return { origin: [lon - column * lonStep, lat + row * latStep], resolution: [lonStep, -latStep] };
}

/** Writers print steps such as 1/3600 with rounding: a corner a billionth of a degree off a neat one is that one. */
function tidy(deg: number): number {
  const seconds = deg * 36_000;
  return Math.abs(seconds - Math.round(seconds)) < 1e-4 ? Math.round(seconds) / 36_000 : deg;
}
