import { setImmediate } from "node:timers/promises";
import { ElevationGrid } from "@fieldstop/core/horizon";
import { cellBox, cellName, type DegreeCell } from "./degree-cell";
import { readTerrarium, type TerrariumTile } from "./terrarium";
import { TileError } from "./tile-error";
import type { TileRef } from "./tile-ref";

/** Where elevation tiles by zoom, column and row come from. */
export interface MapTileSource {
  /** Unique among all sources. */
  readonly key: string;
  /** The most detailed zoom that there is. */
  readonly maxZoom: number;
  readonly attribution?: string;
  /** Changes when any of the tiles does. */
  readonly version: string;
  /** The sea's floor is in the tiles, as it is in the open set: heights below zero are then taken for the sea's surface. */
  readonly hasDepths: boolean;
  /**
   * A tile's bytes; null where there is none of that number.
   * @throws TileError where it cannot be had
   */
  fetch(tile: MapTile, signal: AbortSignal): Promise<Uint8Array | null>;
  /** Told that bytes proved to be a tile. */
  keep?(tile: MapTile, bytes: Uint8Array): void;
}

/** A tile of the web's map: OGC 17-083r4, WebMercatorQuad. */
export interface MapTile {
  readonly z: number;
  readonly x: number;
  readonly y: number;
}

export const mapTileName = ({ z, x, y }: MapTile): string => `${z}/${x}/${y}.png`;

// WGS 84 equator over the pixels of a tile at zoom 0 [m]
const EQUATOR_M = 40_075_016.69;
const PIXELS = 256;
/** The coarsest that samples may be [m]; a zoom halves them, so that they come to 45 to 90 m. */
const COARSEST_M = 90;
// the square map ends here: atan(sinh π)
const LAST_LATITUDE = 85.051_128;
const DEGREE = Math.PI / 180;

/** Map tiles as tiles by degree cell: each is put together from those that cover it when it is needed. */
export function mapTilesIn(source: MapTileSource): (cell: DegreeCell) => readonly TileRef[] {
  const { attribution } = source;
  const details = { kind: "RGB elevation tiles (terrarium)", ...(attribution === undefined ? {} : { attribution }) };
  return (cell) => {
    const { north, south } = cellBox(cell);
    if (north > LAST_LATITUDE || south < -LAST_LATITUDE) return [];
    const name = cellName(cell);
    return [
      {
        key: `${source.key} ${name}`,
        name,
        box: cellBox(cell),
        source: details,
        version: source.version,
        load: () => cellGrid(source, cell),
      },
    ];
  };
}

/** Zoom at which samples are 45 to 90 m apart on the ground, or the most detailed there is. */
export function zoomFor(latitude: number, maxZoom: number): number {
  const wanted = Math.ceil(Math.log2((EQUATOR_M * Math.cos(latitude * DEGREE)) / (PIXELS * COARSEST_M)));
  return Math.max(0, Math.min(maxZoom, wanted));
}

async function cellGrid(source: MapTileSource, cell: DegreeCell): Promise<ElevationGrid | null> {
  const middle = cell.latitude + 0.5;
  const zoom = zoomFor(middle, source.maxZoom);
  const { west, east, north, south } = cellBox(cell);
  const tilesWide = 2 ** zoom;
  // half a pixel of the coarsest tile kept all round, for the surface between samples
  const margin = 0.5 / PIXELS;
  const columns = range(mapX(west, tilesWide) - margin, mapX(east, tilesWide) + margin);
  const rows = range(mapY(north, tilesWide) - margin, mapY(south, tilesWide) + margin).filter(
    (y) => y >= 0 && y < tilesWide,
  );
  const tiles = await fetchAll(
    source,
    rows.flatMap((y) => columns.map((x) => ({ z: zoom, x: ((x % tilesWide) + tilesWide) % tilesWide, y }))),
  );
  const side = tiles.find((tile) => tile !== null)?.side;
  if (side === undefined) return null;
  const heights = mosaicOf(tiles, columns.length, rows.length, side, source.hasDepths);
  // nodes as close as samples are
  const across = Math.ceil((tilesWide * side) / 360);
  const down = Math.ceil(across / Math.cos(middle * DEGREE));
  const samples = new Float32Array((across + 1) * (down + 1));
  const left = columns[0] as number;
  const top = rows[0] as number;
  for (let j = 0; j <= down; j++) {
    if (j % 256 === 255) await setImmediate();
    const y = (mapY(north - j / down, tilesWide) - top) * side - 0.5;
    for (let i = 0; i <= across; i++) {
      const x = (mapX(west + i / across, tilesWide) - left) * side - 0.5;
      samples[j * (across + 1) + i] = between(heights, columns.length * side, rows.length * side, x, y);
    }
  }
  return new ElevationGrid({
    samples,
    rows: down + 1,
    columns: across + 1,
    northDeg: north,
    westDeg: west,
    latStepDeg: 1 / down,
    lonStepDeg: 1 / across,
  });
}

const mapX = (longitude: number, tilesWide: number): number => ((longitude + 180) / 360) * tilesWide;
const mapY = (latitude: number, tilesWide: number): number =>
  (0.5 - Math.asinh(Math.tan(latitude * DEGREE)) / (2 * Math.PI)) * tilesWide;

function range(from: number, to: number): number[] {
  const first = Math.floor(from);
  return Array.from({ length: Math.floor(to) - first + 1 }, (_, i) => first + i);
}

/** The first tile that cannot be had ends the wait for the others: the cell cannot be put together without it. */
async function fetchAll(source: MapTileSource, wanted: readonly MapTile[]): Promise<(TerrariumTile | null)[]> {
  const giveUp = new AbortController();
  try {
    return await Promise.all(wanted.map((tile) => fetchOne(source, tile, giveUp.signal)));
  } finally {
    giveUp.abort();
  }
}

async function fetchOne(source: MapTileSource, tile: MapTile, signal: AbortSignal): Promise<TerrariumTile | null> {
  const bytes = await source.fetch(tile, signal);
  if (bytes === null) return null;
  try {
    const decoded = readTerrarium(bytes);
    source.keep?.(tile, bytes);
    return decoded;
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new TileError(mapTileName(tile), `no elevation tile (${why}): truncated or damaged`, { cause: error });
  }
}

interface Heights {
  readonly heightsM: Float32Array;
}

function mosaicOf(
  tiles: readonly (TerrariumTile | null)[],
  across: number,
  down: number,
  side: number,
  hasDepths: boolean,
): Heights {
  const heightsM = new Float32Array(across * side * down * side).fill(Number.NaN);
  tiles.forEach((tile, index) => {
    if (tile === null || tile.side !== side) return;
    const left = (index % across) * side;
    const top = Math.floor(index / across) * side;
    for (let row = 0; row < side; row++) {
      const at = (top + row) * across * side + left;
      heightsM.set(tile.heightsM.subarray(row * side, (row + 1) * side), at);
    }
  });
  // NaN stays as it is
  if (hasDepths) for (let i = 0; i < heightsM.length; i++) if ((heightsM[i] as number) < 0) heightsM[i] = 0;
  return { heightsM };
}

/** The bilinear surface between samples; beyond the outermost, theirs. */
function between({ heightsM }: Heights, width: number, height: number, x: number, y: number): number {
  const i = Math.max(0, Math.min(width - 2, Math.floor(x)));
  const j = Math.max(0, Math.min(height - 2, Math.floor(y)));
  const u = Math.max(0, Math.min(1, x - i));
  const v = Math.max(0, Math.min(1, y - j));
  const at = j * width + i;
  const north = (heightsM[at] as number) * (1 - u) + (heightsM[at + 1] as number) * u;
  const south = (heightsM[at + width] as number) * (1 - u) + (heightsM[at + width + 1] as number) * u;
  return north * (1 - v) + south * v;
}
