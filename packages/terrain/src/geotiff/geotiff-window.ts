import type { GeoTIFFImage } from "geotiff";
import { TileError } from "../tiles/tile-error";

/** A rectangle of samples. */
export interface SampleWindow {
  readonly firstRow: number;
  readonly firstColumn: number;
  readonly rows: number;
  readonly columns: number;
}

/** Samples that are read at one go: a projected raster may have several under each node of a block. */
const MOST_SAMPLES = 67_108_864;

/**
 * The samples of a rectangle, row by row.
 * @throws TileError naming the file where they cannot be read
 */
export async function readWindow(
  name: string,
  image: GeoTIFFImage,
  { firstRow, firstColumn, rows, columns }: SampleWindow,
): Promise<ArrayLike<number>> {
  if (rows * columns > MOST_SAMPLES) {
    throw new TileError(
      name,
      `${rows} × ${columns} samples lie under one block: they are far finer one way than the other`,
    );
  }
  let read: ArrayLike<number>;
  try {
    const window = [firstColumn, firstRow, firstColumn + columns, firstRow + rows];
    read = (await image.readRasters({ window, interleave: true })) as unknown as ArrayLike<number>;
  } catch (error) {
    if (error instanceof TileError) throw error;
    const why = error instanceof Error ? error.message : String(error);
    throw new TileError(name, `the samples cannot be read (${why}): truncated or damaged`, { cause: error });
  }
  if (read.length !== rows * columns) throw new TileError(name, `${read.length} samples, not ${rows} × ${columns}`);
  return read;
}
