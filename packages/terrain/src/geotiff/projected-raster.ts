import { setImmediate } from "node:timers/promises";
import { ElevationGrid } from "@fieldstop/core/horizon";
import type { GeoTIFFImage } from "geotiff";
import { TileError } from "../tiles/tile-error";
import type { Georeference } from "./georeference";
import { readWindow, type SampleWindow } from "./geotiff-window";
import type { Projection } from "./projection";

/** Nodes along parallels and meridians that a projected raster is resampled to. */
export interface DegreeLattice {
  readonly northDeg: number;
  readonly westDeg: number;
  readonly latStepDeg: number;
  readonly lonStepDeg: number;
  readonly rows: number;
  readonly columns: number;
}

/** A raster in the coordinates of a map projection. */
export interface ProjectedRaster {
  readonly image: GeoTIFFImage;
  readonly projection: Projection;
  readonly place: Georeference;
  readonly voidValue: number | undefined;
}

/** Edge points projected on each side of the raster to find its bounds: between them an edge bows by less than a sample. */
const EDGE_POINTS = 64;
/** Samples past the file's edge that its last ones are drawn out by, so that neighbouring files meet without a gap. */
const DRAWN_OUT = 1.25;
/** Nodes between those that are projected exactly: over 16 nodes of 30 m a meridian bows by 5 mm. */
const EXACT_EVERY = 16;
const ROWS_AT_A_TIME = 128;

/**
 * The lattice of the raster's own resolution that covers it.
 * @throws TileError naming the file where the raster has no bounds in degrees: it holds a pole, or leaves its projection
 */
export function latticeOf(name: string, raster: ProjectedRaster): DegreeLattice {
  const columns = raster.image.getWidth();
  const rows = raster.image.getHeight();
  const degrees = (column: number, row: number) => {
    const { place, projection } = raster;
    const half = place.cells ? 0.5 : 0;
    return projection.toDegrees(place.x + (column + half) * place.stepX, place.y + (row + half) * place.stepY);
  };
  const [middleLon, middleLat] = degrees(columns / 2, rows / 2);
  const [eastLon, eastLat] = degrees(columns / 2 + 1, rows / 2);
  const [southLon, southLat] = degrees(columns / 2, rows / 2 + 1);
  const cosine = Math.cos((middleLat * Math.PI) / 180);
  const arc = (lon: number, lat: number) => Math.hypot((lon - middleLon) * cosine, lat - middleLat);
  const step = Math.min(arc(eastLon, eastLat), arc(southLon, southLat));
  const reach = DRAWN_OUT + (raster.place.cells ? 0.5 : 0);
  const edge = Array.from({ length: EDGE_POINTS + 1 }, (_, i) => i / EDGE_POINTS).flatMap((t) => {
    const column = -reach + t * (columns - 1 + 2 * reach);
    const row = -reach + t * (rows - 1 + 2 * reach);
    return [
      degrees(column, -reach),
      degrees(column, rows - 1 + reach),
      degrees(-reach, row),
      degrees(columns - 1 + reach, row),
    ];
  });
  // the same way round the globe as the middle
  const longitudes = edge.map(([lon]) => middleLon + ((((lon - middleLon + 180) % 360) + 360) % 360) - 180);
  const latitudes = edge.map(([, lat]) => lat);
  const north = Math.max(...latitudes);
  const south = Math.min(...latitudes);
  const west = Math.min(...longitudes);
  const east = Math.max(...longitudes);
  if (!(step > 0 && east - west < 180 && north < 89.5 && south > -89.5)) {
    const { code } = raster.projection;
    throw new TileError(name, `the raster leaves what its projection shows (${code}), or holds a pole`);
  }
  const latStepDeg = 1 / Math.ceil(1 / step);
  const lonStepDeg = 1 / Math.ceil(cosine / step);
  const northRow = Math.ceil(north / latStepDeg);
  const westColumn = Math.floor(west / lonStepDeg);
  return {
    northDeg: northRow * latStepDeg,
    westDeg: westColumn * lonStepDeg,
    latStepDeg,
    lonStepDeg,
    rows: northRow - Math.floor(south / latStepDeg) + 1,
    columns: Math.ceil(east / lonStepDeg) - westColumn + 1,
  };
}

/** Resamples the part of a raster under a block of its lattice by the bilinear surface through its samples; void where it has none. */
export async function resampledBlock(
  name: string,
  raster: ProjectedRaster,
  lattice: DegreeLattice,
  block: SampleWindow,
): Promise<ElevationGrid> {
  const { rows, columns } = block;
  const northDeg = lattice.northDeg - block.firstRow * lattice.latStepDeg;
  const westDeg = lattice.westDeg + block.firstColumn * lattice.lonStepDeg;
  const exact = exactPositions(raster, { ...lattice, northDeg, westDeg, rows, columns });
  const samples = new Float32Array(rows * columns).fill(Number.NaN);
  const window = windowUnder(raster, exact);
  if (window !== null) {
    const heightAt = bilinear(await readWindow(name, raster.image, window), window, raster);
    for (let row = 0; row < rows; row++) {
      if (row % ROWS_AT_A_TIME === ROWS_AT_A_TIME - 1) await setImmediate();
      fillRow(samples, row, columns, exact, heightAt);
    }
  }
  const { latStepDeg, lonStepDeg } = lattice;
  return new ElevationGrid({ samples, rows, columns, northDeg, westDeg, latStepDeg, lonStepDeg });
}

/** Column and row in the raster of every 16th node, and of one more past the block. */
interface ExactPositions {
  readonly width: number;
  readonly sourceColumns: Float64Array;
  readonly sourceRows: Float64Array;
}

function exactPositions({ place, projection }: ProjectedRaster, block: DegreeLattice): ExactPositions {
  const width = Math.ceil(block.columns / EXACT_EVERY) + 1;
  const height = Math.ceil(block.rows / EXACT_EVERY) + 1;
  const sourceColumns = new Float64Array(width * height);
  const sourceRows = new Float64Array(width * height);
  const half = place.cells ? 0.5 : 0;
  for (let j = 0; j < height; j++) {
    const latitude = block.northDeg - j * EXACT_EVERY * block.latStepDeg;
    for (let i = 0; i < width; i++) {
      const longitude = block.westDeg + i * EXACT_EVERY * block.lonStepDeg;
      const [x, y] = projection.fromDegrees(longitude > 180 ? longitude - 360 : longitude, latitude);
      sourceColumns[j * width + i] = (x - place.x) / place.stepX - half;
      sourceRows[j * width + i] = (y - place.y) / place.stepY - half;
    }
  }
  return { width, sourceColumns, sourceRows };
}

function windowUnder({ image }: ProjectedRaster, { sourceColumns, sourceRows }: ExactPositions): SampleWindow | null {
  const [west, east] = bounds(sourceColumns, image.getWidth());
  const [north, south] = bounds(sourceRows, image.getHeight());
  if (!(west <= east && north <= south)) return null;
  return { firstColumn: west, firstRow: north, columns: east - west + 1, rows: south - north + 1 };
}

/** First and last sample that positions, some of them NaN, lie between or near. */
function bounds(positions: Float64Array, count: number): [first: number, last: number] {
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (const position of positions) {
    if (position < least) least = position;
    if (position > most) most = position;
  }
  if (most < -3 || least > count + 2) return [1, 0];
  const within = (index: number) => Math.max(0, Math.min(count - 1, index));
  return [within(Math.floor(least) - 2), within(Math.ceil(most) + 2)];
}

function fillRow(
  samples: Float32Array,
  row: number,
  columns: number,
  { width, sourceColumns, sourceRows }: ExactPositions,
  heightAt: (column: number, row: number) => number,
): void {
  const above = Math.floor(row / EXACT_EVERY) * width;
  const v = (row % EXACT_EVERY) / EXACT_EVERY;
  const between = (positions: Float64Array, at: number, u: number): number => {
    const north = (positions[at] as number) * (1 - u) + (positions[at + 1] as number) * u;
    const south = (positions[at + width] as number) * (1 - u) + (positions[at + width + 1] as number) * u;
    return north * (1 - v) + south * v;
  };
  for (let column = 0; column < columns; column++) {
    const at = above + Math.floor(column / EXACT_EVERY);
    const u = (column % EXACT_EVERY) / EXACT_EVERY;
    samples[row * columns + column] = heightAt(between(sourceColumns, at, u), between(sourceRows, at, u));
  }
}

/** Height at a column and row of the raster; NaN outside it by more than what it is drawn out by, and beside a void. */
function bilinear(read: ArrayLike<number>, window: SampleWindow, { image, place, voidValue }: ProjectedRaster) {
  const reach = DRAWN_OUT + (place.cells ? 0.5 : 0);
  const lastColumn = image.getWidth() - 1;
  const lastRow = image.getHeight() - 1;
  const { firstColumn, firstRow, columns, rows } = window;
  const sample = (column: number, row: number): number => {
    const height = read[row * columns + column] as number;
    return height === voidValue ? Number.NaN : height;
  };
  const mixed = (a: number, b: number, t: number): number => (t === 0 ? a : t === 1 ? b : a + (b - a) * t);
  return (column: number, row: number): number => {
    const inside = column >= -reach && column <= lastColumn + reach && row >= -reach && row <= lastRow + reach;
    if (!inside) return Number.NaN;
    const x = Math.max(0, Math.min(lastColumn, column)) - firstColumn;
    const y = Math.max(0, Math.min(lastRow, row)) - firstRow;
    const i = Math.min(columns - 2, Math.floor(x));
    const j = Math.min(rows - 2, Math.floor(y));
    const north = mixed(sample(i, j), sample(i + 1, j), x - i);
    const south = mixed(sample(i, j + 1), sample(i + 1, j + 1), x - i);
    return mixed(north, south, y - j);
  };
}
