import { cosDeg } from "../angles";
import type { ElevationGrid } from "./grid";
import { HIGHEST_GROUND_M } from "./maximum-pyramid";

/** A grid as seen from a viewpoint: its columns and rows against offsets in longitude and latitude. */
export interface PlacedGrid {
  readonly grid: ElevationGrid;
  /** Its bounds as offsets from the viewpoint [deg]. */
  readonly box: Box;
  /** Column and row of the viewpoint; far outside the grid where the viewpoint is. */
  readonly column0: number;
  readonly row0: number;
  readonly columnsPerDeg: number;
  readonly rowsPerDeg: number;
  readonly lastColumn: number;
  readonly lastRow: number;
  /** The wider of the grid's two steps [m]. */
  readonly cellM: number;
  /** Whether a grid that goes before this one covers part of it. */
  readonly overlaid: boolean;
}

/** The grids that can matter within a radius of a viewpoint, in order of preference: where several know the ground, the first counts. */
export interface Mosaic {
  readonly grids: readonly PlacedGrid[];
  /** No ground within the radius stands higher than this [m]: the highest on Earth where something is not covered. */
  readonly ceilingM: number;
  /** What no grid covers of the box round the radius. */
  readonly uncovered: readonly Box[];
}

export interface Box {
  readonly west: number;
  readonly east: number;
  readonly south: number;
  readonly north: number;
}

// WGS 84: a degree of latitude is 110.57 km at the least; a hundredth more keeps rounding out of it
const LEAST_METRES_PER_DEGREE = 109_500;

export function placeGrids(
  grids: readonly ElevationGrid[],
  latitudeDeg: number,
  longitudeDeg: number,
  radiusM: number,
): Mosaic {
  const reach = boxAround(latitudeDeg, radiusM);
  const placed: PlacedGrid[] = [];
  const boxes: Box[] = [];
  for (const grid of grids) {
    for (const turn of [-360, 0, 360]) {
      // offsets from the viewpoint, the same way round the globe
      const box = {
        west: grid.westDeg + turn - longitudeDeg,
        east: grid.eastDeg + turn - longitudeDeg,
        south: grid.southDeg - latitudeDeg,
        north: grid.northDeg - latitudeDeg,
      };
      if (!overlaps(box, reach, 0)) continue;
      const columnsPerDeg = 1 / grid.lonStepDeg;
      const rowsPerDeg = 1 / grid.latStepDeg;
      placed.push({
        grid,
        box,
        column0: -box.west * columnsPerDeg,
        row0: box.north * rowsPerDeg,
        columnsPerDeg,
        rowsPerDeg,
        lastColumn: grid.columns - 1,
        lastRow: grid.rows - 1,
        cellM: 111_320 * Math.max(grid.latStepDeg, grid.lonStepDeg * cosDeg(latitudeDeg)),
        overlaid: boxes.some((other) => overlaps(box, other, 1e-9)),
      });
      boxes.push(box);
    }
  }
  const highest = placed.reduce((most, { grid }) => Math.max(most, grid.pyramid.highestM), Number.NEGATIVE_INFINITY);
  const uncovered = uncoveredBy(
    placed.map(({ grid }, i) => widened(boxes[i] as Box, 2 * grid.lonStepDeg, 2 * grid.latStepDeg)),
    reach,
  );
  const ceilingM = uncovered.length === 0 ? highest : Math.max(HIGHEST_GROUND_M, highest);
  return { grids: placed, ceilingM, uncovered };
}

function boxAround(latitudeDeg: number, radiusM: number): Box {
  const height = radiusM / LEAST_METRES_PER_DEGREE;
  const farthest = Math.abs(latitudeDeg) + height;
  const width = farthest >= 89 ? 180 : Math.min(180, height / cosDeg(farthest));
  // nothing lies past a pole
  const south = Math.max(-height, -90 - latitudeDeg);
  return { west: -width, east: width, south, north: Math.min(height, 90 - latitudeDeg) };
}

const overlaps = (a: Box, b: Box, slop: number): boolean =>
  a.west < b.east - slop && b.west < a.east - slop && a.south < b.north - slop && b.south < a.north - slop;

const widened = (box: Box, lonDeg: number, latDeg: number): Box => ({
  west: box.west - lonDeg / 2,
  east: box.east + lonDeg / 2,
  south: box.south - latDeg / 2,
  north: box.north + latDeg / 2,
});

/** What the boxes together leave uncovered: between all their edges, each rectangle lies in one of them or in none. */
function uncoveredBy(boxes: readonly Box[], whole: Box): Box[] {
  const xs = edges(
    whole.west,
    whole.east,
    boxes.flatMap((box) => [box.west, box.east]),
  );
  const ys = edges(
    whole.south,
    whole.north,
    boxes.flatMap((box) => [box.south, box.north]),
  );
  const uncovered: Box[] = [];
  for (let i = 1; i < xs.length; i++) {
    const west = xs[i - 1] as number;
    const east = xs[i] as number;
    const x = (west + east) / 2;
    const columnBoxes = boxes.filter((box) => box.west <= x && x <= box.east);
    for (let j = 1; j < ys.length; j++) {
      const south = ys[j - 1] as number;
      const north = ys[j] as number;
      const y = (south + north) / 2;
      if (!columnBoxes.some((box) => box.south <= y && y <= box.north)) uncovered.push({ west, east, south, north });
    }
  }
  return uncovered;
}

function edges(low: number, high: number, candidates: readonly number[]): number[] {
  return [low, ...candidates.filter((x) => x > low && x < high).sort((a, b) => a - b), high];
}
