import { DomainError } from "../domain-error";
import type { Assumption } from "../notes";
import { stopsFromDensity } from "./attenuation";
import { type GraduatedFilter, type GraduatedTransition, readFilter } from "./filter";
import { MARKETED_DENSITIES, nearestStrength } from "./graduated-strength";

/** A graduated filter that could be taken. */
export interface GraduatedAtHand {
  readonly stops: number;
  readonly mark: string;
  readonly transition: GraduatedTransition;
}

const TRANSITIONS: readonly GraduatedTransition[] = ["hard", "medium", "soft", "reverse"];
const MOST_LISTED = 50;

/** Those that are sold [stops], with their densities. */
export const MARKETED_STRENGTHS: readonly { readonly stops: number; readonly density: number }[] =
  MARKETED_DENSITIES.map((density) => ({
    density,
    stops: stopsFromDensity(density),
  }));

/**
 * What is in the bag; where nothing was named, each strength that is sold in each transition.
 * @throws DomainError for more than 50, for none, or for a filter that is not graduated
 */
export function graduatedAtHand(
  available: readonly GraduatedFilter[] | undefined,
  assumptions: Assumption[],
): GraduatedAtHand[] {
  if (available === undefined) {
    const why = "no filters were named: those that are sold";
    assumptions.push({ field: "available", value: MARKETED_DENSITIES.map((d) => d.toFixed(1)).join(", "), why });
    return MARKETED_STRENGTHS.flatMap(({ stops: strength, density }) =>
      TRANSITIONS.map((transition) => ({
        stops: strength,
        mark: `density ${density.toFixed(1)}`,
        transition,
      })),
    );
  }
  if (available.length === 0 || available.length > MOST_LISTED) {
    throw new DomainError({ param: "available", given: available.length, allowed: `1 to ${MOST_LISTED} filters` });
  }
  return available.map((filter, i) => {
    const { graduatedStops, mark, transition, kind } = readFilter(filter, `available.${i}`);
    if (transition === undefined) {
      throw new DomainError({ param: `available.${i}.kind`, given: kind, allowed: "graduated" });
    }
    return { stops: graduatedStops, mark, transition };
  });
}

/** The strength that comes nearest, in the first of the transitions that has it. */
export function takeGraduated(
  candidates: readonly GraduatedAtHand[],
  allowed: readonly GraduatedTransition[],
  contrastStops: number,
  residualStops: number,
): GraduatedAtHand | "no-transition" | "no-strength" {
  const fitting = allowed.flatMap((transition) => candidates.filter((one) => one.transition === transition));
  if (fitting.length === 0) return "no-transition";
  return nearestStrength(contrastStops, residualStops, fitting) ?? "no-strength";
}
