import type { ElevationGrid } from "@fieldstop/core/horizon";
import { cellBox, cellName, type DegreeCell } from "../tiles/degree-cell";
import { TileError } from "../tiles/tile-error";
import type { TileReader, TileRef } from "../tiles/tile-ref";
import { deepestZoom } from "./deepest-zoom";
import { mapX, mapY } from "./web-mercator";
import type { ZoomMemory } from "./zoom-memory";

/** Where elevation tiles by zoom, column and row come from. */
export interface MapTileSource {
  /** Unique among all sources. */
  readonly key: string;
  /** The most detailed zoom that there is; what is remembered of looking for it, where that has to be asked for place by place. */
  readonly deepest: number | ZoomMemory;
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
  /** Its tiles may change without a sign. */
  readonly isRemote?: boolean;
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
/** How much coarser the deepest tiles may be: samples are up to 1.5 km apart then, and anything coarser has lost its ridges. */
const MOST_ZOOMS_COARSER = 4;
/** The deepest zoom that any set of tiles has. */
const LAST_ZOOM = 22;
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
        isRemote: source.isRemote ?? false,
        load: (read) => cellGrid(source, cell, read),
      },
    ];
  };
}

/** Zoom at which samples are 45 to 90 m apart on the ground, or the most detailed there is. */
export function zoomFor(latitude: number, maxZoom: number): number {
  const wanted = Math.ceil(Math.log2((EQUATOR_M * Math.cos(latitude * DEGREE)) / (PIXELS * COARSEST_M)));
  return Math.max(0, Math.min(maxZoom, wanted));
}

async function cellGrid(source: MapTileSource, cell: DegreeCell, read: TileReader): Promise<ElevationGrid | null> {
  const found = await tilesOver(source, cell);
  if (found === null) return null;
  const { zoom, left, top, across, down, wanted, tiles } = found;
  const { hasDepths } = source;
  const reading = await read({ kind: "map-tiles", cell, zoom, left, top, across, down, tiles, hasDepths });
  const damaged = reading.kind === "damaged" ? reading.index : -1;
  wanted.forEach((tile, i) => {
    const bytes = tiles[i];
    // what comes after a damaged one has not been looked at
    if (bytes && (damaged < 0 || i < damaged)) source.keep?.(tile, bytes);
  });
  if (reading.kind === "grid") return reading.grid;
  const name = mapTileName(wanted[damaged] as MapTile);
  const why = reading.kind === "damaged" ? reading.why : "not all of it is there";
  throw new TileError(name, `no elevation tile (${why}): truncated or damaged`);
}

/** The tiles over a cell at the zoom that suits it, or at the deepest that there is; null where there are none. */
async function tilesOver(source: MapTileSource, cell: DegreeCell): Promise<TilesOver | null> {
  const { deepest } = source;
  const middle = cell.latitude + 0.5;
  if (typeof deepest === "number") return tilesAt(source, cell, zoomFor(middle, deepest));
  const known = await deepest.at(cell);
  const there = known === null ? null : await tilesAt(source, cell, known);
  if (there !== null) return there;
  const finest = zoomFor(middle, LAST_ZOOM);
  const coarsest = Math.max(0, finest - MOST_ZOOMS_COARSER);
  const found = await deepestZoom(coarsest, finest, (zoom) => tilesAt(source, cell, zoom), deepest.last);
  if (found === null) return null;
  deepest.note(cell, found.zoom);
  return found.found;
}

/** What there is over a cell at one zoom. */
interface TilesOver {
  readonly zoom: number;
  readonly left: number;
  readonly top: number;
  readonly across: number;
  readonly down: number;
  /** Row by row, and what came for each. */
  readonly wanted: readonly MapTile[];
  readonly tiles: readonly (Uint8Array | null)[];
}

/** Null where not one of them is there. */
async function tilesAt(source: MapTileSource, cell: DegreeCell, zoom: number): Promise<TilesOver | null> {
  const { west, east, north, south } = cellBox(cell);
  const tilesWide = 2 ** zoom;
  // half a pixel of the coarsest tile kept all round, for the surface between samples
  const margin = 0.5 / PIXELS;
  const columns = range(mapX(west, tilesWide) - margin, mapX(east, tilesWide) + margin);
  const rows = range(mapY(north, tilesWide) - margin, mapY(south, tilesWide) + margin).filter(
    (y) => y >= 0 && y < tilesWide,
  );
  const wanted = rows.flatMap((y) =>
    columns.map((x) => ({ z: zoom, x: ((x % tilesWide) + tilesWide) % tilesWide, y })),
  );
  const tiles = await fetchAll(source, wanted);
  if (tiles.every((bytes) => bytes === null)) return null;
  const [left = 0] = columns;
  const [top = 0] = rows;
  return { zoom, left, top, across: columns.length, down: rows.length, wanted, tiles };
}

function range(from: number, to: number): number[] {
  const first = Math.floor(from);
  return Array.from({ length: Math.floor(to) - first + 1 }, (_, i) => first + i);
}

/** The first tile that cannot be had ends the wait for the others: the cell cannot be put together without it. */
async function fetchAll(source: MapTileSource, wanted: readonly MapTile[]): Promise<(Uint8Array | null)[]> {
  const giveUp = new AbortController();
  try {
    return await Promise.all(wanted.map((tile) => source.fetch(tile, giveUp.signal)));
  } finally {
    giveUp.abort();
  }
}
