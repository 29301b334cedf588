import type { PlacedGrid } from "./mosaic";

/** Which part of a line, 0 to 1, lies in a grid. */
export interface Clip {
  from: number;
  to: number;
}

/** Whether a point, as an offset from the viewpoint [deg], lies in a grid. */
export function holds(placed: PlacedGrid, eastDeg: number, northDeg: number): boolean {
  const column = placed.column0 + eastDeg * placed.columnsPerDeg;
  const row = placed.row0 - northDeg * placed.rowsPerDeg;
  return column >= 0 && row >= 0 && column <= placed.lastColumn && row <= placed.lastRow;
}

/** The part of a line that lies in a grid, a hair of rounding allowed; false where none does. */
export function clipLine(
  placed: PlacedGrid,
  east0: number,
  north0: number,
  east1: number,
  north1: number,
  clip: Clip,
): boolean {
  clip.from = 0;
  clip.to = 1;
  const column = placed.column0 + east0 * placed.columnsPerDeg;
  const row = placed.row0 - north0 * placed.rowsPerDeg;
  return (
    clipAxis(column, (east1 - east0) * placed.columnsPerDeg, placed.lastColumn, clip) &&
    clipAxis(row, (north0 - north1) * placed.rowsPerDeg, placed.lastRow, clip)
  );
}

function clipAxis(start: number, change: number, last: number, clip: Clip): boolean {
  const slop = 1e-7;
  if (Math.abs(change) < slop) return start >= -slop && start <= last + slop;
  const a = -start / change;
  const b = (last - start) / change;
  const enter = Math.min(a, b);
  const leave = Math.max(a, b);
  if (enter > clip.from) clip.from = enter;
  if (leave < clip.to) clip.to = leave;
  return clip.to > clip.from;
}
