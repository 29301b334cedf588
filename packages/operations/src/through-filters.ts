import { type Filter, takenByFilters } from "@fieldstop/core/filters";
import type { Assumption, Caution } from "@fieldstop/core/notes";

export interface ThroughFilters<T> {
  readonly answer: T;
  readonly attenuationStops: number;
  /** What was assumed of the filters. */
  readonly assumptions: readonly Assumption[];
  readonly cautions: readonly Caution[];
}

/** A calculation on what the filters of a request take from the whole frame [stops]. */
export function throughFilters<T>(
  filters: readonly Filter[] | undefined,
  calculate: (attenuationStops: number) => T,
): ThroughFilters<T> {
  if (filters === undefined || filters.length === 0) {
    return { answer: calculate(0), attenuationStops: 0, assumptions: [], cautions: [] };
  }
  const assumptions: Assumption[] = [];
  const { attenuationStops, cautions } = takenByFilters(filters, assumptions);
  return { answer: calculate(attenuationStops), attenuationStops, assumptions, cautions };
}
