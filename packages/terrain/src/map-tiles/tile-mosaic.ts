import { setImmediate } from "node:timers/promises";
import { ElevationGrid } from "@fieldstop/core/horizon";
import { cellBox, type DegreeCell } from "../tiles/degree-cell";
import type { TileReading } from "../tiles/tile-recipe";
import { readTerrarium, type TerrariumTile } from "./terrarium";
import { mapX, mapY } from "./web-mercator";

/** Map tiles that together cover a degree cell, still to be decoded. */
export interface TileMosaic {
  readonly kind: "map-tiles";
  readonly cell: DegreeCell;
  readonly zoom: number;
  /** Column and row of the first tile; columns count on past the antimeridian. */
  readonly left: number;
  readonly top: number;
  /** Tiles in a row, and rows. */
  readonly across: number;
  readonly down: number;
  /** Row by row; null where there is none. */
  readonly tiles: readonly (Uint8Array | null)[];
  /** Heights below zero are the sea's floor: the ground is its surface. */
  readonly hasDepths: boolean;
}

const DEGREE = Math.PI / 180;

/** Puts the tiles together and resamples them to nodes as close as their samples are. */
export async function readMapTiles({
  cell,
  zoom,
  left,
  top,
  across,
  down,
  tiles,
  hasDepths,
}: TileMosaic): Promise<TileReading> {
  const decoded: (TerrariumTile | null)[] = [];
  for (const [index, bytes] of tiles.entries()) {
    try {
      decoded.push(bytes === null ? null : readTerrarium(bytes));
    } catch (error) {
      return { kind: "damaged", index, why: error instanceof Error ? error.message : String(error) };
    }
    await setImmediate();
  }
  const side = decoded.find((tile) => tile !== null)?.side ?? 1;
  const heights = mosaicOf(decoded, across, down, side, hasDepths);
  const { west, north } = cellBox(cell);
  const tilesWide = 2 ** zoom;
  const columns = Math.ceil((tilesWide * side) / 360);
  const rows = Math.ceil(columns / Math.cos((cell.latitude + 0.5) * DEGREE));
  const samples = new Float32Array((columns + 1) * (rows + 1));
  for (let j = 0; j <= rows; j++) {
    if (j % 256 === 255) await setImmediate();
    const y = (mapY(north - j / rows, tilesWide) - top) * side - 0.5;
    for (let i = 0; i <= columns; i++) {
      const x = (mapX(west + i / columns, tilesWide) - left) * side - 0.5;
      samples[j * (columns + 1) + i] = between(heights, across * side, down * side, x, y);
    }
  }
  const grid = new ElevationGrid({
    samples,
    rows: rows + 1,
    columns: columns + 1,
    northDeg: north,
    westDeg: west,
    latStepDeg: 1 / rows,
    lonStepDeg: 1 / columns,
  });
  return { kind: "grid", grid };
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
