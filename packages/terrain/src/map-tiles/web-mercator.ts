// OGC 17-083r4, WebMercatorQuad: the square map, its tiles counted from the north-west
const DEGREE = Math.PI / 180;

/** Column of a longitude [deg] on a map so many tiles wide, with fractions. */
export const mapX = (longitude: number, tilesWide: number): number => ((longitude + 180) / 360) * tilesWide;

/** Row of a latitude [deg], with fractions. */
export const mapY = (latitude: number, tilesWide: number): number =>
  (0.5 - Math.asinh(Math.tan(latitude * DEGREE)) / (2 * Math.PI)) * tilesWide;
