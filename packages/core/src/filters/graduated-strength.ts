import { requireInRange } from "../domain-error";
import { stopsFromDensity } from "./attenuation";

/** Densities that graduated filters are sold in. Common practice. */
export const MARKETED_DENSITIES: readonly number[] = Object.freeze([0.6, 0.9, 1.2]);

/**
 * How much brighter than the ground a filter should leave the sky [stops]: a sky three stops brighter takes a filter of two (Advanced Photography Guide,
 * 2018, p. 126).
 */
export const NATURAL_RESIDUAL_STOPS = 1;

/** From this difference between sky and ground on a graduated filter is thought of [stops]. Common practice. */
export const CONSIDERED_FROM_STOPS = 2;

// Our own choice: a filter leaves the sky at least this much brighter than the ground, unless less is asked for
const LEAST_RESIDUAL_STOPS = 0.5;

/**
 * Compute the strength of graduated filter that a contrast asks for: what is more than the sky may be brighter, to the nearest
 * strength at hand, and never so much that the sky becomes darker than the ground.
 * @param contrastStops the sky over the ground [stops], -40 to 40
 * @param residualStops how much brighter the sky should stay [stops], 0 to 10; default 1
 * @param densities at hand [1], each 0 to 6.0206; default 0.6, 0.9 and 1.2
 * @returns density [1]; null where none is needed, or the weakest is far too strong
 * @throws DomainError outside those ranges
 * Source: common practice, strength = difference − residual. Held by the golden rows `grad`.
 * @example graduatedDensityWanted(5) // 1.2
 */
export function graduatedDensityWanted(
  contrastStops: number,
  residualStops: number = NATURAL_RESIDUAL_STOPS,
  densities: readonly number[] = MARKETED_DENSITIES,
): number | null {
  requireInRange("contrastStops", contrastStops, -40, 40, "stops");
  requireInRange("residualStops", residualStops, 0, 10, "stops");
  return (
    nearestStrength(
      contrastStops,
      residualStops,
      densities.map((density, i) => ({ density, stops: stopsFromDensity(density, `densities.${i}`) })),
    )?.density ?? null
  );
}

/** The one that comes nearest to the strength wanted; undefined where doing without comes as near. */
export function nearestStrength<T extends { readonly stops: number }>(
  contrastStops: number,
  residualStops: number,
  filters: readonly T[],
): T | undefined {
  const wanted = contrastStops - residualStops;
  const most = contrastStops - Math.min(LEAST_RESIDUAL_STOPS, residualStops);
  let best: T | undefined;
  let miss = wanted;
  for (const filter of filters) {
    if (filter.stops > most) continue;
    const apart = Math.abs(filter.stops - wanted);
    if (apart < miss || (best !== undefined && apart === miss && filter.stops < best.stops)) {
      best = filter;
      miss = apart;
    }
  }
  return best;
}
