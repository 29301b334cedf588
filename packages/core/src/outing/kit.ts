import { DomainError, requireInRange } from "../domain-error";

/** How a graduated filter goes from dark to clear; a reverse one is darkest at the line. */
export type Transition = "hard" | "medium" | "soft" | "reverse";

/** What is in the bag, sorted by what it is for. */
export interface Kit {
  /** Neutral density filters, each with its attenuation [stops]. */
  readonly neutralDensityStops: readonly number[];
  readonly graduated: readonly { readonly stops: number; readonly transition: Transition }[];
  /** Light that the polarizer takes [stops], or null without one. */
  readonly polarizerLossStops: number | null;
}

/** A filter as kit sorting needs it: its kind, and its attenuation counted in stops. */
export type CountedFilter =
  | { readonly kind: "nd"; readonly stops: number }
  | { readonly kind: "graduated"; readonly stops: number; readonly transition: Transition }
  | { readonly kind: "polarizer"; readonly lossStops: number };

const MOST_FILTERS = 12;

/**
 * Sorts the filters of a bag by what they are for, weakest first.
 * @throws DomainError for more than 12 filters, or an attenuation outside 0 to 20 stops
 */
export function sortKit(filters: readonly CountedFilter[]): Kit {
  if (filters.length > MOST_FILTERS) {
    throw new DomainError({ param: "filters", given: filters.length, allowed: `up to ${MOST_FILTERS} filters` });
  }
  const neutralDensityStops: number[] = [];
  const graduated: { stops: number; transition: Transition }[] = [];
  let polarizerLossStops: number | null = null;
  for (const [i, filter] of filters.entries()) {
    if (filter.kind === "polarizer") {
      polarizerLossStops = requireInRange(`filters.${i}.lossStops`, filter.lossStops, 0, 20, "stops");
    } else if (filter.kind === "graduated") {
      requireInRange(`filters.${i}.stops`, filter.stops, 0, 20, "stops");
      graduated.push({ stops: filter.stops, transition: filter.transition });
    } else {
      neutralDensityStops.push(requireInRange(`filters.${i}.stops`, filter.stops, 0, 20, "stops"));
    }
  }
  graduated.sort((a, b) => a.stops - b.stops);
  neutralDensityStops.sort((a, b) => a - b);
  return { neutralDensityStops, graduated, polarizerLossStops };
}
