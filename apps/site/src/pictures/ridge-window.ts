/** The part of the compass that a ridge picture shows, and its scales. */
export interface RidgeWindow {
  readonly fromDeg: number;
  readonly widthDeg: number;
  readonly topDeg: number;
  readonly bottomDeg: number;
  readonly widthPx: number;
  readonly heightPx: number;
  /** How much taller than wide a degree is drawn. */
  readonly exaggeration: number;
  x(azimuthDeg: number): number;
  y(altitudeDeg: number): number;
}

export const HEADER_PX = 26;
export const AXIS_PX = 44;

const NARROW_PX = 340;
const BROAD_PX = 1180;

/** A window round the azimuth at which the sun goes or comes: broad on a broad page, closer and taller on a phone. */
export function ridgeWindow(centreDeg: number, highestDeg: number, givenPx: number): RidgeWindow {
  const widthPx = Math.round(Math.max(NARROW_PX, Math.min(BROAD_PX, givenPx)));
  const breadth = (widthPx - NARROW_PX) / (BROAD_PX - NARROW_PX);
  const widthDeg = 76 + 56 * breadth;
  const exaggeration = widthPx < 700 ? 2.6 : 1.6;
  const fromDeg = centreDeg - widthDeg * (0.6 - 0.14 * breadth);
  const bottomDeg = -0.7;
  const topDeg = Math.max(widthPx < 700 ? 11 : 13, Math.min(26, highestDeg + 3));
  const perDeg = widthPx / widthDeg;
  const heightPx = (topDeg - bottomDeg) * perDeg * exaggeration;
  return {
    fromDeg,
    widthDeg,
    topDeg,
    bottomDeg,
    widthPx,
    heightPx: HEADER_PX + heightPx + AXIS_PX,
    exaggeration,
    x: (azimuthDeg) => turnedOn(azimuthDeg, fromDeg + widthDeg / 2, fromDeg) * perDeg,
    y: (altitudeDeg) => HEADER_PX + (topDeg - altitudeDeg) * perDeg * exaggeration,
  };
}

/** Degrees from the window's left edge, on the side of its middle where the azimuth is nearer. */
function turnedOn(azimuthDeg: number, middleDeg: number, fromDeg: number): number {
  const away = ((((azimuthDeg - middleDeg + 180) % 360) + 360) % 360) - 180;
  return middleDeg + away - fromDeg;
}
