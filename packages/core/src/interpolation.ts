import { wrap360 } from "./angles";

/**
 * Index of the last element that is <= x in an ascending list; -1 when x is below them all. Where the elements are evenly spaced, as most are, it lies
 * where their spacing says; elsewhere that halves the list unevenly, and the search goes on from there.
 */
export function lastIndexAtOrBelow(ascending: ArrayLike<number>, x: number): number {
  let low = 0;
  let high = ascending.length;
  const first = ascending[0] as number;
  const guess = (((x - first) / ((ascending[high - 1] as number) - first)) * (high - 1)) | 0;
  if (guess >= 0 && guess < high) {
    if ((ascending[guess] as number) > x) high = guess;
    else if (guess + 1 === high || (ascending[guess + 1] as number) > x) return guess;
    else low = guess + 1;
  }
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((ascending[middle] as number) <= x) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

/**
 * Straight-line interpolation round the compass: `azimuthsDeg` ascend within [0, 360), the last joins the first.
 * A single azimuth gives its value everywhere.
 */
export function interpolateRoundCompass(
  azimuthsDeg: ArrayLike<number>,
  values: ArrayLike<number>,
  azimuthDeg: number,
): number {
  const last = azimuthsDeg.length - 1;
  const azimuth = wrap360(azimuthDeg);
  const index = lastIndexAtOrBelow(azimuthsDeg, azimuth);
  const left = index < 0 ? last : index;
  const right = index >= last ? 0 : index + 1;
  const start = azimuthsDeg[left] as number;
  const span = wrap360((azimuthsDeg[right] as number) - start);
  const valueLeft = values[left] as number;
  if (span === 0) return valueLeft;
  return valueLeft + (((values[right] as number) - valueLeft) * wrap360(azimuth - start)) / span;
}
