import { type Assumption, type Caution, DomainError, type Filter, takenByFilters } from "@fieldstop/core";

export interface ThroughFilters<T> {
  readonly answer: T;
  readonly attenuationStops: number;
  /** What was assumed of the filters. */
  readonly assumptions: readonly Assumption[];
  readonly cautions: readonly Caution[];
}

/** A calculation on what the filters of a request take from the whole frame [stops]; what it refuses of that is named as the filters. */
export function throughFilters<T>(
  filters: readonly Filter[] | undefined,
  calculate: (attenuationStops: number) => T,
): ThroughFilters<T> {
  if (filters === undefined || filters.length === 0) {
    return { answer: calculate(0), attenuationStops: 0, assumptions: [], cautions: [] };
  }
  const assumptions: Assumption[] = [];
  const { attenuationStops, cautions } = takenByFilters(filters, assumptions);
  try {
    return {
      answer: calculate(attenuationStops),
      attenuationStops,
      assumptions,
      cautions,
    };
  } catch (error) {
    if (!(error instanceof DomainError && error.param === "attenuationStops")) throw error;
    const { code, given, allowed } = error;
    throw new DomainError({ code, param: "filters", given, allowed });
  }
}
