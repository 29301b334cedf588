/** Radians in one degree. Radians never leave a function body; every public angle is in degrees. */
export const RADIANS_PER_DEGREE = Math.PI / 180;

export const sinDeg = (deg: number): number => Math.sin(deg * RADIANS_PER_DEGREE);
export const cosDeg = (deg: number): number => Math.cos(deg * RADIANS_PER_DEGREE);
export const tanDeg = (deg: number): number => Math.tan(deg * RADIANS_PER_DEGREE);

/** Arc sine in degrees; the argument is clamped to [-1, 1], so that rounding never makes NaN. */
export const asinDeg = (x: number): number => Math.asin(x > 1 ? 1 : x < -1 ? -1 : x) / RADIANS_PER_DEGREE;

/** Arc cosine in degrees; the argument is clamped to [-1, 1], so that rounding never makes NaN. */
export const acosDeg = (x: number): number => Math.acos(x > 1 ? 1 : x < -1 ? -1 : x) / RADIANS_PER_DEGREE;

export const atanDeg = (x: number): number => Math.atan(x) / RADIANS_PER_DEGREE;
export const atan2Deg = (y: number, x: number): number => Math.atan2(y, x) / RADIANS_PER_DEGREE;

/** The same direction in [0, 360). */
export function wrap360(deg: number): number {
  // the remainder of a division is dear, and hardly ever needed
  if (deg >= 0 && deg < 360) return deg + 0;
  const remainder = deg % 360;
  const wrapped = remainder < 0 ? remainder + 360 : remainder;
  // a hair below a full turn rounds up to 360; adding zero makes -0 plain
  return wrapped >= 360 ? 0 : wrapped + 0;
}

/** The same angle in [-180, 180). */
export function wrap180(deg: number): number {
  return wrap360(deg + 180) - 180;
}

/** Great-circle angle [deg] between two directions given as azimuth and altitude [deg]. */
export function separationDeg(azimuth1: number, altitude1: number, azimuth2: number, altitude2: number): number {
  // haversine: keeps its digits at small angles, where the arc cosine of a scalar product loses them
  const sinHalfAlt = sinDeg((altitude2 - altitude1) / 2);
  const sinHalfAz = sinDeg((azimuth2 - azimuth1) / 2);
  const h = sinHalfAlt * sinHalfAlt + cosDeg(altitude1) * cosDeg(altitude2) * sinHalfAz * sinHalfAz;
  return 2 * asinDeg(Math.sqrt(h));
}
