import { DomainError } from "@fieldstop/core/domain-error";
import { addDays } from "@fieldstop/core/instants";
import type { Subject } from "@fieldstop/core/light";
import type { Assumption, Caution } from "@fieldstop/core/notes";
import {
  type OutingRequest as CoreOutingRequest,
  type CriterionWeights,
  dateOfSession,
  type OutingPlan,
  planOuting as plan,
  rankOutings,
  type ScoredOuting,
  scoreOuting,
} from "@fieldstop/core/outing";
import type { Dependencies } from "./dependencies";
import { groundAround } from "./ground-around";
import { type HorizonInput, resolveHorizon } from "./horizon";
import { resolveSubject } from "./light-windows";
import { type PlaceInput, placeTime } from "./place";
import { rounded } from "./rounding";
import { outingTideAt } from "./tides";

/** One evening or morning at a place; default today's. */
export interface OutingRequest
  extends Pick<
    CoreOutingRequest,
    "session" | "camera" | "filters" | "scene" | "foreground" | "sky" | "targetShutterSeconds" | "walkInMinutes"
  > {
  readonly place: PlaceInput;
  readonly date?: string | undefined;
  readonly subject?: Omit<Subject, "horizon"> | undefined;
  readonly horizon?: HorizonInput | undefined;
  /** Id of a tide station, or `nearest`; default: no tide. */
  readonly tideStation?: string | undefined;
}

/** All that a plan takes, as plain data. */
export interface OutingInput {
  readonly request: CoreOutingRequest;
  /** Said before what the plan assumes itself. */
  readonly assumptions: readonly Assumption[];
}

/** Look up what a plan needs: zone, tide and terrain. */
export async function outingInput(dependencies: Dependencies, request: OutingRequest): Promise<OutingInput> {
  const { place, tideStation, ...rest } = request;
  const { timeZone, clock, assumptions } = placeTime(dependencies, place);
  const date = rest.date ?? dateOfSession(rest.session, (ms) => clock.dateAt(ms)) ?? clock.dateAt(dependencies.nowMs());
  // a day that cannot be is refused before any terrain is read
  addDays(date, 0);
  const tide = await outingTideAt(dependencies, tideStation, place, { date, timeZone, session: rest.session });
  const terrain = await resolveHorizon(dependencies, place, rest.horizon);
  const ground = terrain.horizon.kind === "terrain" ? await groundAround(dependencies, place) : undefined;
  return {
    request: {
      ...rest,
      place: { ...place, elevationM: place.elevationM ?? terrain.groundElevationM },
      date,
      timeZone,
      horizon: terrain.horizon,
      ground,
      tide: tide?.tide,
      subject: await resolveSubject(dependencies, { place, subject: rest.subject, horizon: rest.horizon }),
    },
    assumptions: [...assumptions, ...terrain.assumptions, ...(tide?.assumptions ?? [])],
  };
}

/** Plan an outing, from plain data alone. Its numbers are not rounded. */
export function outing({ request, assumptions }: OutingInput): OutingPlan {
  const planned = plan(request);
  return { ...planned, assumptions: [...assumptions, ...planned.assumptions] };
}

/** One evening or morning, planned. */
export async function planOuting(dependencies: Dependencies, request: OutingRequest) {
  return rounded(outing(await outingInput(dependencies, request)));
}

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
