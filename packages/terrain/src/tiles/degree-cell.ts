/** A cell of one degree, by its south-west corner. */
export interface DegreeCell {
  readonly latitude: number;
  readonly longitude: number;
}

/** Bounds in degrees. */
export interface Box {
  readonly west: number;
  readonly east: number;
  readonly south: number;
  readonly north: number;
}

/** The name that elevation archives give a degree cell: `N38W028`. */
export function cellName({ latitude, longitude }: DegreeCell): string {
  const ns = latitude < 0 ? "S" : "N";
  const ew = longitude < 0 ? "W" : "E";
  return `${ns}${pad(latitude, 2)}${ew}${pad(longitude, 3)}`;
}

const pad = (value: number, digits: number): string => String(Math.abs(value)).padStart(digits, "0");

const CELL = /(?:^|[^A-Za-z])([NS])(\d{2})(?:_\d{2})?_?([EW])(\d{3})(?!\d)/i;

/** The degree cell that a file's name tells, as in `N38W028.hgt` or `…_N38_00_W029_00_….tif`; null where it tells none. */
export function cellFromName(name: string): DegreeCell | null {
  const match = CELL.exec(name);
  if (match === null) return null;
  const latitude = Number(match[2]) * (match[1]?.toUpperCase() === "S" ? -1 : 1) + 0;
  const longitude = Number(match[4]) * (match[3]?.toUpperCase() === "W" ? -1 : 1) + 0;
  if (latitude < -90 || latitude > 89 || longitude < -180 || longitude > 179) return null;
  return { latitude, longitude };
}

export const cellBox = ({ latitude, longitude }: DegreeCell): Box => ({
  west: longitude,
  east: longitude + 1,
  south: latitude,
  north: latitude + 1,
});

/** Every degree cell that a box shares ground with. */
export function cellsOf(box: Box): DegreeCell[] {
  const slop = 1e-6;
  const cells: DegreeCell[] = [];
  for (let latitude = Math.floor(box.south + slop); latitude < box.north - slop; latitude++) {
    for (let column = Math.floor(box.west + slop); column < box.east - slop; column++) {
      cells.push({ latitude, longitude: ((((column + 180) % 360) + 360) % 360) - 180 });
    }
  }
  return cells;
}

/** Whether two boxes share ground, and not an edge alone. */
export function boxesMeet(a: Box, b: Box): boolean {
  const slop = 1e-6;
  if (Math.min(a.north, b.north) - Math.max(a.south, b.south) <= slop) return false;
  return [-360, 0, 360].some((turn) => Math.min(a.east, b.east + turn) - Math.max(a.west, b.west + turn) > slop);
}

/** A box that holds every point within a radius of a place. */
export function boxAround(latitude: number, longitude: number, radiusKm: number): Box {
  // a degree of latitude is 110.57 km at the least
  const height = radiusKm / 110.5;
  const farthest = Math.abs(latitude) + height;
  // round a pole there are all longitudes
  const width = farthest >= 89 ? 180 : Math.min(180, height / Math.cos((farthest * Math.PI) / 180));
  return {
    west: longitude - width,
    east: longitude + width,
    south: Math.max(-90, latitude - height),
    north: Math.min(90, latitude + height),
  };
}
