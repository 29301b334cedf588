import { DomainError } from "../domain-error";
import { type Assumption, type Caution, sunThroughOptics } from "../notes";
import { totalStops } from "./attenuation";
import { type Filter, type FilterReading, readFilter } from "./filter";

/** What filters on the lens take. */
export interface TakenByFilters {
  /** From the whole frame [stops]. */
  readonly attenuationStops: number;
  /** From the sky besides, by graduated filters [stops]. */
  readonly graduatedStops: number;
  /** In the order given. */
  readonly filters: readonly FilterReading[];
  readonly cautions: readonly Caution[];
}

const MOST_STACKED = 10;
const MOST_STOPS = 40;
// Our own choice: about where people begin to take a filter for one to look at the sun with
const LOOKS_LIKE_A_SOLAR_FILTER_STOPS = 9;

/**
 * Compute what filters on the lens take, each read and all together: stops add, whatever the order.
 * @param given up to 10, 40 stops together
 * @param assumptions what was assumed of single filters is added to this list
 * @throws DomainError out of range; `impossible` for more than 40 stops together
 * Source and accuracy: as `stackFilters`, which rests on it; held by tests/core/filters/stack.spec.ts.
 * @example takenByFilters([{ kind: "nd", stops: 6 }, { kind: "nd", stops: 4 }]).attenuationStops // 10
 */
export function takenByFilters(given: readonly Filter[], assumptions: Assumption[] = []): TakenByFilters {
  if (!(given.length <= MOST_STACKED)) {
    throw new DomainError({ param: "filters", given: given.length, allowed: `at most ${MOST_STACKED} filters` });
  }
  const filters = given.map((filter, i) => readFilter(filter, `filters.${i}`, assumptions));
  const attenuationStops = totalStops(filters.map((filter) => filter.attenuationStops));
  const graduatedStops = totalStops(filters.map((filter) => filter.graduatedStops));
  const inAll = attenuationStops + graduatedStops;
  if (!(inAll <= MOST_STOPS)) {
    const allowed = `filters that take at most ${MOST_STOPS} stops together`;
    throw new DomainError({ code: "impossible", param: "filters", given: inAll, allowed });
  }
  return { attenuationStops, graduatedStops, filters, cautions: denseFilterCautions(attenuationStops) };
}

/** What must be said of filters this dense. */
export function denseFilterCautions(attenuationStops: number): Caution[] {
  return attenuationStops >= LOOKS_LIKE_A_SOLAR_FILTER_STOPS ? [sunThroughOptics()] : [];
}
