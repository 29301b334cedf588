import { DomainError } from "@fieldstop/core/domain-error";
import { addDays } from "@fieldstop/core/instants";
import type { Caution } from "@fieldstop/core/notes";
import { type CriterionWeights, rankOutings, type ScoredOuting, scoreOuting } from "@fieldstop/core/outing";
import type { Dependencies } from "../dependencies";
import { rounded } from "../rounding";
import { type OutingInput, type OutingRequest, outing, outingInput } from "./outing";

/** Places and days to weigh against each other. */
export interface ComparisonRequest
  extends Omit<OutingRequest, "place" | "date" | "subject" | "horizon" | "tideStation"> {
  readonly places: readonly (Pick<OutingRequest, "place" | "subject" | "horizon"> & {
    readonly camera?: OutingRequest["camera"] | undefined;
  })[];
  readonly dates: readonly string[];
  readonly weights?: CriterionWeights | undefined;
}

/** All that a comparison takes, as plain data. */
export interface ComparisonInput {
  /** An outing at each place, on the first of the days. */
  readonly places: readonly OutingInput[];
  readonly dates: readonly string[];
  readonly weights: CriterionWeights | undefined;
}

/** Look up what a comparison needs: the zone and the skyline of each place. */
export async function comparisonInput(
  dependencies: Dependencies,
  request: ComparisonRequest,
): Promise<ComparisonInput> {
  const { places, dates, weights, ...shared } = request;
  // days that cannot be are refused before any terrain is read
  for (const [j, date] of dates.entries()) addDays(date, 0, `dates.${j}`);
  const inputs: OutingInput[] = [];
  for (const [i, { camera, ...spot }] of places.entries()) {
    try {
      inputs.push(
        await outingInput(dependencies, { ...shared, ...spot, date: dates[0], camera: camera ?? shared.camera }),
      );
    } catch (error) {
      throw named(error, i, 0);
    }
  }
  return { places: inputs, dates, weights };
}

/** Plan and rank outings, from plain data alone. */
export function comparison({ places, dates, weights }: ComparisonInput) {
  const scored = places.flatMap(({ request, assumptions }, i) =>
    dates.map((date, j) => {
      try {
        return scoreOuting(outing({ request: { ...request, date }, assumptions }), weights);
      } catch (error) {
        throw named(error, i, j);
      }
    }),
  );
  const { assumptions } = (scored[0] as ScoredOuting).plan;
  return rounded({ outings: rankOutings(scored), assumptions, cautions: cautionsOf(scored) });
}

/** Places and days against each other. */
export async function compareOutings(dependencies: Dependencies, request: ComparisonRequest) {
  return comparison(await comparisonInput(dependencies, request));
}

/** What can hurt on any of them, each once. */
function cautionsOf(scored: readonly ScoredOuting[]): Caution[] {
  const all = scored.flatMap(({ plan }) => plan.cautions);
  return [...new Map(all.map((one) => [one.code, one])).values()];
}

/** What the outing at a place on a day refuses, named by its place in the comparison. */
function named(error: unknown, place: number, date: number): unknown {
  if (!(error instanceof DomainError)) return error;
  if (error.param === "date") return error.at(`dates.${date}`);
  return /^(place|subject|horizon)\b/.test(error.param) ? error.at(`places.${place}.${error.param}`) : error;
}
