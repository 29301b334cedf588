import type { z } from "@hono/zod-openapi";
import { fieldErrorsFromZod } from "../../problems/from-zod";
import { knownProblem } from "../../problems/known-problem";
import { ProblemError } from "../../problems/problem";
import { runJob, type Services } from "../../services";
import { ForecastRequest, type ForecastsLine } from "./forecast.schema";
import { forecastInput } from "./forecast-input";

/** Enough to keep the elevation and the weather of the next places on their way while one is computed. */
const AT_ONCE = 8;

type Line = z.output<typeof ForecastsLine>;
type Problem = Extract<Line, { readonly problem: unknown }>["problem"];

export interface ForecastsRequest {
  /** The JSON of each place: text takes a fraction of the memory of what it means, whatever a caller wrote. */
  readonly places: readonly string[];
  readonly lang: string | undefined;
  /** What a line says of a place that is refused or that met a fault. */
  readonly problemOf: (error: unknown) => Problem;
}

/**
 * Write the forecasts of many places, each as it is ready; a bad place costs its own line alone. The last line counts them. Never more than eight are
 * under way or wait to be taken, so that what nobody reads is not computed; once the reader stops, no further one begins.
 */
export async function* forecastLines(services: Services, request: ForecastsRequest): AsyncGenerator<string, void> {
  const { places } = request;
  const underWay = new Map<number, Promise<{ readonly index: number; readonly text: string; readonly ok: boolean }>>();
  let next = 0;
  let served = 0;
  while (next < places.length || underWay.size > 0) {
    for (; next < places.length && underWay.size < AT_ONCE; next++) {
      underWay.set(next, lineOf(services, request, next));
    }
    const { index, text, ok } = await Promise.race(underWay.values());
    underWay.delete(index);
    if (ok) served++;
    yield text;
  }
  yield JSON.stringify({ done: true, served, failed: places.length - served } satisfies Line);
}

async function lineOf(services: Services, { places, lang, problemOf }: ForecastsRequest, index: number) {
  const place: unknown = JSON.parse(places[index] as string);
  const head = { index, ...idOf(place) };
  try {
    const input = await forecastInput(services, readPlace(place));
    const { text } = await runJob(services, "forecastJson", { input, lang }, { continues: true });
    return { index, text: `${JSON.stringify(head).slice(0, -1)},"forecast":${text}}`, ok: true };
  } catch (error) {
    return { index, text: JSON.stringify({ ...head, problem: problemOf(atPlace(error, index)) }), ok: false };
  }
}

/** The caller's own name of a place, so that even a line that refuses it can be told apart. */
function idOf(place: unknown): { id?: string } {
  const id = ForecastRequest.shape.id.safeParse((place as { id?: unknown } | null)?.id);
  return id.success && id.data !== undefined ? { id: id.data } : {};
}

function readPlace(place: unknown): z.output<typeof ForecastRequest> {
  const read = ForecastRequest.safeParse(place);
  if (read.success) return read.data;
  const errors = fieldErrorsFromZod("json", place, read.error);
  const detail = errors.map((error) => `${error.pointer || "the place"}: ${error.detail}`).join("; ");
  throw new ProblemError("invalid-input", { detail, errors });
}

/** The fields that an error names, as they lie in the whole body. */
function atPlace(error: unknown, index: number): unknown {
  const known = knownProblem(error, "json");
  if (known === undefined) return error;
  const errors = known.details.errors?.map((one) => ({ ...one, pointer: `/places/${index}${one.pointer}` }));
  return new ProblemError(known.key, { ...known.details, ...(errors && { errors }) });
}
