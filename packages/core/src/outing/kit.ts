import { DomainError } from "../domain-error";
import { type Filter, type FilterReading, type GraduatedFilter, readFilter } from "../filters/filter";
import type { Assumption } from "../notes";

/** What is in the bag, sorted by what it is for; neutral densities weakest first. */
export interface Kit {
  readonly neutralDensity: readonly FilterReading[];
  readonly graduated: readonly GraduatedFilter[];
  readonly polarizer: FilterReading | null;
}

const MAX_FILTERS = 12;

/**
 * Sort the filters of a bag by what they are for.
 * @throws DomainError for more than 12 filters, or one that cannot be read
 */
export function sortKit(filters: readonly Filter[], assumptions: Assumption[]): Kit {
  if (filters.length > MAX_FILTERS) {
    throw new DomainError({ param: "filters", given: filters.length, allowed: `up to ${MAX_FILTERS} filters` });
  }
  const readings = filters.map((filter, i) => readFilter(filter, `filters.${i}`, assumptions));
  readings.sort((a, b) => a.attenuationStops - b.attenuationStops);
  return {
    neutralDensity: readings.filter(({ kind }) => kind === "nd"),
    graduated: filters.filter((filter) => filter.kind === "graduated"),
    polarizer: readings.find(({ kind }) => kind === "polarizer") ?? null,
  };
}
