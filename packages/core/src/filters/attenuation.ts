import { requireInRange } from "../domain-error";

/** Light taken away, in the four ways that filters are marked. Stops are what we count in; the others follow from them. */
export interface Attenuation {
  readonly stops: number;
  /** log10 of the factor. */
  readonly density: number;
  /** How many times longer the exposure becomes. */
  readonly factor: number;
  readonly transmittancePercent: number;
}

/** The densest single filter that core answers for [stops], past anything sold for photographs. */
export const DENSEST_FILTER_STOPS = 20;

// Optical density is the log10 of the attenuation factor (ISO 5-1:2009, terms); a stop is a factor of two
const STOPS_PER_DENSITY = Math.log2(10);

/**
 * Express an attenuation in all four ways: stops, density, factor and per cent transmittance.
 * @param stops [stops], 0 to 40
 * @param param name to report errors under
 * @returns the same attenuation as density [1], factor [1] and transmittance [%]
 * @throws DomainError outside that range
 * Source: definition of density, ISO 5-1:2009; factor 2^stops. Accuracy: that of the machine; held by the golden rows `nd` and `stack`.
 * @example attenuationFromStops(10).factor // 1024
 */
export function attenuationFromStops(stops: number, param = "stops"): Attenuation {
  requireInRange(param, stops, 0, 40, "stops");
  const factor = 2 ** stops;
  return { stops, density: stops / STOPS_PER_DENSITY, factor, transmittancePercent: 100 / factor };
}

/**
 * Compute the stops of an optical density: D·log2(10).
 * @param density [1], 0 to 6.0206 (20 stops)
 * @param param name to report errors under
 * @returns [stops]
 * @throws DomainError outside that range
 * Source: as {@link attenuationFromStops}; held by the golden rows `nd`.
 * @example stopsFromDensity(3) // 9.966
 */
export function stopsFromDensity(density: number, param = "density"): number {
  return atMostDensest(requireInRange(param, density, 0, roundedUp(DENSEST_FILTER_STOPS / STOPS_PER_DENSITY)));
}

/**
 * Compute the stops of a filter factor: log2(factor). An ND1000 is 9.97 stops, though it is sold as 10.
 * @param factor [1], 1 to 1,048,576 (20 stops)
 * @param param name to report errors under
 * @returns [stops]
 * @throws DomainError outside that range
 * Source: as {@link attenuationFromStops}; held by the golden rows `nd` and `factor`.
 * @example stopsFromFactor(1000) // 9.966
 */
export function stopsFromFactor(factor: number, param = "factor"): number {
  return Math.log2(requireInRange(param, factor, 1, 2 ** DENSEST_FILTER_STOPS));
}

/**
 * Compute the stops of a transmittance in per cent: log2(100/T).
 * @param transmittancePercent [%], 0.0000953 (20 stops) to 100
 * @param param name to report errors under
 * @returns [stops]
 * @throws DomainError outside that range
 * Source: as {@link attenuationFromStops}; held by the golden rows `nd`.
 * @example stopsFromTransmittance(12.5) // 3
 */
export function stopsFromTransmittance(transmittancePercent: number, param = "transmittancePercent"): number {
  const least = 100 / 2 ** DENSEST_FILTER_STOPS;
  return Math.log2(100 / requireInRange(param, transmittancePercent, least, 100, "%"));
}

/**
 * Find the stops that a filter of this attenuation is sold as: the nearest third of a stop, or half where that is nearer.
 * @param stops exact attenuation [stops]
 * @returns [stops]
 * Source: common practice in the naming of grades. Held by the golden rows `nd` and `factor`.
 * @example stopsAsMarked(9.966) // 10
 */
export function stopsAsMarked(stops: number): number {
  const third = Math.round(stops * 3) / 3;
  const half = Math.round(stops * 2) / 2;
  return Math.abs(half - stops) < Math.abs(third - stops) ? half : third;
}

/** The sum of attenuations [stops], the same to the last bit whatever their order. */
export function totalStops(terms: readonly number[]): number {
  return [...terms].sort((a, b) => a - b).reduce((sum, term) => sum + term, 0);
}

// the top of the range as people see it, four decimals; what it rounds up by is taken off again
const roundedUp = (density: number): number => Math.ceil(density * 1e4) / 1e4;
const atMostDensest = (density: number): number => Math.min(DENSEST_FILTER_STOPS, density * STOPS_PER_DENSITY);
