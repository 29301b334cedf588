/** Distances at which chords meet: short near by, where a metre aside is a large angle. */
export function chordBreaks(radiusM: number, latitudeDeg: number): Float64Array {
  // the geodesic bends in the grid as the tangent of the latitude
  const shorter = Math.min(1, 1 / Math.sqrt(Math.abs(Math.tan((latitudeDeg * Math.PI) / 180)) + 1e-9));
  const breaks = [0];
  for (let d = 0; d < radiusM; ) {
    d = Math.min(radiusM, d + (500 + 40 * Math.sqrt(d)) * shorter);
    breaks.push(d);
  }
  return Float64Array.from(breaks);
}
