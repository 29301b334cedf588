import { DomainError } from "../domain-error";

/** How the bins of a histogram count: by sRGB code, as in a finished picture, or by light, as in raw data scaled to its white level. */
export type HistogramCoding = "srgb" | "linear";

/** Pixels in each bin from black to white, 256 bins or more, the same for each channel. */
export interface Histogram {
  readonly red: readonly number[];
  readonly green: readonly number[];
  readonly blue: readonly number[];
}

export type HistogramChannel = keyof Histogram;
export const HISTOGRAM_CHANNELS: readonly HistogramChannel[] = Object.freeze(["red", "green", "blue"] as const);

const FEWEST_BINS = 256;
const MOST_BINS = 65_536;

/**
 * Convert to light, from 0 to 1, an sRGB code from 0 to 1.
 * @param code [0 to 1]; beyond that it is taken at the nearer end
 * @returns share of full light [0 to 1]
 * Source: IEC 61966-2-1:1999, equations 5 and 6. Held by tests/core/bracketing/histogram.spec.ts.
 * @example linearFromSrgb(0.5) // 0.2140
 */
export function linearFromSrgb(code: number): number {
  const c = code < 0 ? 0 : code > 1 ? 1 : code;
  return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
}

/** Convert a share of full light to its sRGB code, from 0 to 1; the inverse of {@link linearFromSrgb}. */
export function srgbFromLinear(light: number): number {
  if (light >= 1) return 1;
  const l = light < 0 ? 0 : light;
  return l <= 0.003_130_8 ? l * 12.92 : 1.055 * l ** (1 / 2.4) - 0.055;
}

/**
 * The light at the edges of bins, from 0 to 1: one more than there are bins. Bin i holds codes that round to i, so its edges lie half way to its neighbours.
 */
export function binEdges(bins: number, coding: HistogramCoding): Float64Array {
  const edges = new Float64Array(bins + 1);
  for (let i = 1; i < bins; i++) {
    const code = (i - 0.5) / (bins - 1);
    edges[i] = coding === "srgb" ? linearFromSrgb(code) : code;
  }
  edges[bins] = 1;
  return edges;
}

/** One channel as shares: what lies below each edge, from 0 to 1. */
export type Cumulative = Float64Array;

/**
 * The running share of pixels below each bin edge.
 * @throws DomainError for too few or too many bins, counts that are negative or not finite, or no pixels at all
 */
export function cumulative(counts: readonly number[], param: string): Cumulative {
  if (!(counts.length >= FEWEST_BINS && counts.length <= MOST_BINS)) {
    throw new DomainError({ param, given: counts.length, allowed: `${FEWEST_BINS} to ${MOST_BINS} bins` });
  }
  const shares = new Float64Array(counts.length + 1);
  let total = 0;
  for (let i = 0; i < counts.length; i++) {
    const count = counts[i] as number;
    if (!(count >= 0 && count <= 1e15)) {
      throw new DomainError({ param: `${param}.${i}`, given: count, allowed: "a count of pixels, 0 or more" });
    }
    total += count;
    shares[i + 1] = total;
  }
  if (total === 0) throw new DomainError({ param, given: 0, allowed: "at least one pixel in the whole histogram" });
  for (let i = 1; i < shares.length; i++) shares[i] = (shares[i] as number) / total;
  return shares;
}

/**
 * The light below which a share of the pixels lies, between the edges of its bin by a straight line.
 * @param shares running shares
 * @param edges light at the bin edges
 * @param share 0 to 1
 */
export function lightBelowWhich(shares: Cumulative, edges: Float64Array, share: number): number {
  let low = 0;
  let high = shares.length - 1;
  // the first edge with at least the share below it
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((shares[middle] as number) >= share) high = middle;
    else low = middle + 1;
  }
  if (low === 0) {
    // nothing is wanted below: the darkest pixel there is
    let first = 0;
    while (first < shares.length - 1 && shares[first + 1] === 0) first++;
    return edges[first] as number;
  }
  const below = shares[low - 1] as number;
  const within = (shares[low] as number) - below;
  const part = within === 0 ? 0 : (share - below) / within;
  return (edges[low - 1] as number) + part * ((edges[low] as number) - (edges[low - 1] as number));
}
