import { coastEdgeM, distanceInland, skerryHeightM, strandWeight } from "./coast";
import { erode, type HeightGrid } from "./erosion";
import { type MapPoint, toMap } from "./frame";
import { layeredNoise } from "./noise";
import { rawReliefM, slackCeilingM } from "./relief";
import { smoothStep } from "./shapes";

// The map that holds the island and some sea round it.
const WEST_KM = -7;
const SOUTH_KM = -6;
const EAST_KM = 10;
const NORTH_KM = 6;
const SPACING_KM = 0.05;

/** Height of the ground [m] at a latitude and longitude [deg]; exactly 0 on the sea. */
export type ElevationAt = (latitude: number, longitude: number) => number;

/** Raises the island out of the sea: the same island every time. */
export function raiseIsland(): ElevationAt {
  const land = wearDown();
  return (latitude, longitude) => {
    const point = toMap(latitude, longitude);
    const { eastKm, northKm } = point;
    if (eastKm < WEST_KM || eastKm > EAST_KM || northKm < SOUTH_KM || northKm > NORTH_KM) return 0;
    const inlandKm = distanceInland(point);
    if (inlandKm <= 0) return 0;
    return skerryHeightM(point) ?? shapeShore(point, inlandKm, readBilinear(land, point));
  };
}

function wearDown(): HeightGrid {
  const columns = Math.round((EAST_KM - WEST_KM) / SPACING_KM) + 1;
  const rows = Math.round((NORTH_KM - SOUTH_KM) / SPACING_KM) + 1;
  const heights = new Float64Array(columns * rows);
  const isSea = new Uint8Array(columns * rows);
  const ceilings = new Float64Array(columns * rows);
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const cell = row * columns + column;
      const point = { eastKm: WEST_KM + column * SPACING_KM, northKm: SOUTH_KM + row * SPACING_KM };
      const inlandKm = distanceInland(point);
      ceilings[cell] = slackCeilingM(point);
      // off a cliff the streams' level is the cliff's top: they fall over it rather than cut it down
      isSea[cell] = inlandKm <= 0 ? 1 : 0;
      heights[cell] = isSea[cell] ? 0.8 * coastEdgeM(point) : rawReliefM(point, inlandKm);
    }
  }
  const grid: HeightGrid = { columns, rows, spacingM: SPACING_KM * 1000, heights };
  erode(grid, isSea, { rounds: 30, cutting: 0.06, channelHeadM: 150, creep: 0.18 });
  for (let cell = 0; cell < heights.length; cell++) {
    heights[cell] = Math.min(heights[cell] as number, ceilings[cell] as number);
  }
  return grid;
}

function readBilinear({ columns, heights }: HeightGrid, { eastKm, northKm }: MapPoint): number {
  const x = (eastKm - WEST_KM) / SPACING_KM;
  const y = (northKm - SOUTH_KM) / SPACING_KM;
  const column = Math.floor(x);
  const row = Math.floor(y);
  const u = x - column;
  const v = y - row;
  const at = row * columns + column;
  const south = (heights[at] as number) * (1 - u) + (heights[at + 1] as number) * u;
  const north = (heights[at + columns] as number) * (1 - u) + (heights[at + columns + 1] as number) * u;
  return south * (1 - v) + north * v;
}

// Loch Vane, behind the dunes of the strand, lying along it.
const LOCH = { eastKm: 1.72, northKm: -0.62, longKm: 0.62, wideKm: 0.26, levelM: 7 };

/** How far out of the loch a point is: below 1 in it, in its own half-widths. */
function lochReach({ eastKm, northKm }: MapPoint): number {
  const dx = eastKm - LOCH.eastKm;
  const dy = northKm - LOCH.northKm;
  // the long axis runs along the strand, 5-12-13
  const long = (5 * dx + 12 * dy) / 13 / LOCH.longKm;
  const wide = (12 * dx - 5 * dy) / 13 / LOCH.wideKm;
  return Math.sqrt(long * long + wide * wide) + 0.35 * layeredNoise(eastKm, northKm, 0.6, 3, 601);
}

/** The last touches: crags on high ground, the edge of the land, the beach with its dunes, and the loch. */
function shapeShore(point: MapPoint, inlandKm: number, wornM: number): number {
  const { eastKm, northKm } = point;
  const crags = layeredNoise(eastKm, northKm, 0.22, 2, 651) * (2 + 0.035 * wornM);
  const edge = smoothStep(0, 0.03, inlandKm);
  const inland = Math.max(1, (wornM + crags) * (0.15 + 0.85 * edge));
  const beach = strandWeight(point);
  // one in 36 from the water's edge to the dunes, the slope of a sandy foreshore
  const sand =
    Math.min((1000 * inlandKm) / 36, 4) + 6 * smoothStep(0.14, 0.22, inlandKm) - 4 * smoothStep(0.24, 0.4, inlandKm);
  const ground = inland * (1 - beach) + (sand + 0.4 * crags * smoothStep(0.15, 0.3, inlandKm)) * beach;
  const reach = lochReach(point);
  if (reach < 1) return LOCH.levelM;
  // the machair: low ground all round the loch, rising slowly
  const machair = Math.min(ground, LOCH.levelM + 1 + 5 * (reach - 1));
  const low = smoothStep(3.2, 1.4, reach);
  return Math.max(1, ground * (1 - low) + machair * low);
}
