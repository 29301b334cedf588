import { RADIANS_PER_DEGREE } from "../angles";

/**
 * Distances at which the chords of a ray meet [m], from 0 to the radius: short near by, where a metre aside is a large angle.
 *
 * A chord of length L misses the geodesic by L²·tan(latitude)/8R at its middle, and columns narrow with the cosine of the latitude;
 * beyond 45° chords shorten so that the miss stays the same share of a column. Measured once against chords fifteen times shorter, on a
 * 1″ grid: rough hills within 0.0001°, needles of up to 1300 m on every node within 0.0001° at 57° and 0.007° at 69° of latitude.
 */
export function chordBreaks(radiusM: number, latitudeDeg: number): Float64Array {
  const latitude = Math.abs(latitudeDeg) * RADIANS_PER_DEGREE;
  const shorter = Math.sqrt(Math.min(1, Math.cos(latitude) / (Math.SQRT1_2 * Math.tan(latitude))));
  const breaks = [0];
  for (let d = 0; d < radiusM; ) {
    d = Math.min(radiusM, d + (300 + 24 * Math.sqrt(d)) * shorter);
    breaks.push(d);
  }
  return Float64Array.from(breaks);
}
