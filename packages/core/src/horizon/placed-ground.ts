import type { Mosaic } from "./mosaic";

/** Height of the ground at an offset from the viewpoint [deg], by the first grid that knows it; null where none does. */
export function groundIn(mosaic: Mosaic, eastDeg: number, northDeg: number): number | null {
  const { grids } = mosaic;
  for (let i = 0; i < grids.length; i++) {
    const placed = grids[i] as (typeof grids)[number];
    const column = placed.column0 + eastDeg * placed.columnsPerDeg;
    const row = placed.row0 - northDeg * placed.rowsPerDeg;
    const inside = column >= -1e-6 && row >= -1e-6 && column <= placed.lastColumn + 1e-6;
    if (!inside || row > placed.lastRow + 1e-6) continue;
    const height = placed.grid.elevationAt(column, row);
    if (height !== null) return height;
  }
  return null;
}
