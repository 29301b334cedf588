import { zipSync } from "fflate";
import { type ElevationAt, raiseIsland } from "./island";

/** Nodes along a side of a three-second tile: both edges are in it, so that neighbours share a row or a column. */
const NODES = 1201;
const STEPS = NODES - 1;

// Farr et al. 2007, The Shuttle Radar Topography Mission, Reviews of Geophysics 45 RG2004: the value of a void.
const VOID = -32768;

interface Tile {
  /** Latitude and longitude [deg] of the south-west corner. */
  readonly south: number;
  readonly west: number;
  /** Height [m] at a latitude and longitude [deg]. */
  readonly elevationAt: ElevationAt;
}

const openSea: ElevationAt = () => 0;

/** The tile of the island and the eight round it, so that nothing is missing within 60 km of the shore. */
function tiles(): Tile[] {
  return [
    { south: 56, west: -10, elevationAt: raiseIsland() },
    { south: 57, west: -11, elevationAt: openSea },
    { south: 57, west: -10, elevationAt: openSea },
    // real islands lie in the north of this one and a real coast in the south of that one: unknown there, not sea
    { south: 57, west: -9, elevationAt: (latitude) => (latitude > 57.5 ? VOID : 0) },
    { south: 55, west: -9, elevationAt: (latitude) => (latitude < 55.5 ? VOID : 0) },
    { south: 56, west: -11, elevationAt: openSea },
    { south: 56, west: -9, elevationAt: openSea },
    { south: 55, west: -11, elevationAt: openSea },
    { south: 55, west: -10, elevationAt: openSea },
  ];
}

/** Every elevation tile of the demo: the name of its file and the bytes in it, the same on each run. */
export function buildTiles(): Map<string, Uint8Array> {
  return new Map(
    tiles().map((tile) => {
      const name = `${tileName(tile)}.hgt`;
      // the date in a zip is the local time of day without a zone, so this one reads the same everywhere
      return [`${name}.zip`, zipSync({ [name]: encode(tile) }, { level: 9, mtime: new Date(1980, 0, 1, 12) })];
    }),
  );
}

/** Height by row from the north and column from the west, as 16-bit whole metres, the high byte first. */
function encode({ south, west, elevationAt }: Tile): Uint8Array {
  const bytes = new Uint8Array(2 * NODES * NODES);
  const view = new DataView(bytes.buffer);
  for (let row = 0; row < NODES; row++) {
    const latitude = south + 1 - row / STEPS;
    for (let column = 0; column < NODES; column++) {
      const heightM = Math.round(elevationAt(latitude, west + column / STEPS));
      view.setInt16(2 * (row * NODES + column), heightM, false);
    }
  }
  return bytes;
}

/** The usual name of a tile, after its south-west corner; all of ours lie north and west. */
function tileName({ south, west }: Tile): string {
  return `N${String(south).padStart(2, "0")}W${String(-west).padStart(3, "0")}`;
}
