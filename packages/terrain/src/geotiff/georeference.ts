import type { GeoTIFFImage } from "geotiff";
import { TileError } from "../tiles/tile-error";

/** Where the first sample of a raster lies and the steps from one to the next, in the units of its coordinate system. */
export interface Georeference {
  readonly x: number;
  readonly y: number;
  readonly stepX: number;
  /** Downward, so less than 0. */
  readonly stepY: number;
  /** Each sample stands for a cell, and `x`, `y` are the first one's north-west corner; otherwise for a point, which they are. */
  readonly cells: boolean;
}

// OGC 19-008r4, GeoTIFF 1.1, table for GTRasterTypeGeoKey
const RASTER_PIXEL_IS_POINT = 2;

export function geoKeysOf(image: GeoTIFFImage): Readonly<Record<string, unknown>> {
  return (image.getGeoKeys() as Record<string, unknown> | null) ?? {};
}

/**
 * From the affine transformation or from the tie point and scale (GeoTIFF 1.1, 7.5).
 * @throws TileError naming the file: no georeference, rotated, upside down
 */
export function georeferenceOf(name: string, image: GeoTIFFImage): Georeference {
  const cells = geoKeysOf(image)["GTRasterTypeGeoKey"] !== RASTER_PIXEL_IS_POINT;
  const place = { ...transformation(name, image), cells };
  if (place.stepX > 0 && place.stepY < 0) return place;
  throw new TileError(name, "rows must run from north to south, columns eastward");
}

function transformation(name: string, image: GeoTIFFImage): Omit<Georeference, "cells"> {
  const tag = (key: "ModelTransformation" | "ModelPixelScale" | "ModelTiepoint"): number[] | undefined => {
    const value: unknown = image.fileDirectory.getValue(key);
    return value === undefined || value === null ? undefined : Array.from(value as ArrayLike<number>);
  };
  const [a, b, , x, c, d, , y] = tag("ModelTransformation") ?? [];
  if (a !== undefined && d !== undefined && x !== undefined && y !== undefined) {
    if (b !== 0 || c !== 0) throw new TileError(name, "the raster is rotated; rows must run along its coordinates");
    return { x, y, stepX: a, stepY: d };
  }
  const [stepX, stepY] = tag("ModelPixelScale") ?? [];
  const [column, row, , tieX, tieY, , ...others] = tag("ModelTiepoint") ?? [];
  if (stepX === undefined || stepY === undefined || column === undefined || row === undefined) {
    throw new TileError(name, "no georeference in the file");
  }
  if (tieX === undefined || tieY === undefined || others.length > 0) {
    throw new TileError(name, "one tie point is needed, no more");
  }
  return { x: tieX - column * stepX, y: tieY + row * stepY, stepX, stepY: -stepY };
}
