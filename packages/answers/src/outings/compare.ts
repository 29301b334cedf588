import { DomainError } from "@fieldstop/core/domain-error";
import type { Caution } from "@fieldstop/core/notes";
import { type CriterionWeights, rankOutings, type ScoredOuting, scoreOuting } from "@fieldstop/core/outing";
import { othersTurn } from "../others-turn";
import { rounded } from "../rounding";
import type { Surroundings } from "../surroundings";
import { type OutingAsked, outingAt } from "./outing-at";

/** Places and days to weigh against each other. */
export interface ComparisonAsked extends Omit<OutingAsked, "place" | "date" | "subject" | "horizon" | "tideStation"> {
  readonly places: readonly (Pick<OutingAsked, "place" | "subject" | "horizon"> & {
    readonly camera?: OutingAsked["camera"] | undefined;
  })[];
  readonly dates: readonly string[];
  readonly weights?: CriterionWeights | undefined;
}

/** Places and days against each other. */
export async function compareOutings(surroundings: Surroundings, asked: ComparisonAsked) {
  const { places, dates, weights, ...shared } = asked;
  const scored: ScoredOuting[] = [];
  for (const [i, { camera, ...spot }] of places.entries()) {
    for (const [j, date] of dates.entries()) {
      try {
        const plan = await outingAt(surroundings, { ...shared, ...spot, date, camera: camera ?? shared.camera });
        scored.push(scoreOuting(plan, weights));
      } catch (error) {
        throw named(error, `places.${i}`, `dates.${j}`);
      }
      await othersTurn(surroundings.signal);
    }
  }
  const { assumptions } = (scored[0] as ScoredOuting).plan;
  return rounded({ outings: rankOutings(scored), assumptions, cautions: cautionsOf(scored) });
}

/** What can hurt on any of them, each once. */
function cautionsOf(scored: readonly ScoredOuting[]): Caution[] {
  const all = scored.flatMap(({ plan }) => plan.cautions);
  return [...new Map(all.map((one) => [one.code, one])).values()];
}

/** What a plan refuses, named by its place in the comparison. */
function named(error: unknown, placeMember: string, dateMember: string): unknown {
  if (!(error instanceof DomainError)) return error;
  if (error.param === "date") return error.at(dateMember);
  return /^(place|subject|horizon)\b/.test(error.param) ? error.at(`${placeMember}.${error.param}`) : error;
}
