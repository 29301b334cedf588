import { rounded } from "@fieldstop/answers";
import type { z } from "@hono/zod-openapi";
import { asReady } from "../../formats/as-ready";
import type { Language } from "../../formats/messages/language";
import { fieldErrorsFromZod } from "../../problems/from-zod";
import { knownProblem } from "../../problems/known-problem";
import { ProblemError } from "../../problems/problem";
import type { Services } from "../../services";
import { ForecastRequest, type ForecastsLine } from "./forecast.schema";
import { forecastAt } from "./forecast-at";

/** Enough to keep the elevation and the weather of the next places on their way while one is reckoned. */
const AT_ONCE = 8;

type Line = z.output<typeof ForecastsLine>;
type PlaceLine = Exclude<Line, { readonly done: true }>;

export interface ForecastsAsked {
  readonly places: readonly unknown[];
  readonly language: Language;
  /** What a line says of a place that is refused or that met a fault. */
  readonly problemOf: (error: unknown) => Extract<PlaceLine, { readonly problem: unknown }>["problem"];
}

/** The forecasts of many places, each as it is ready; a bad place costs its own line alone. The last line counts them. */
export async function* forecastsAt(
  services: Services,
  { places, language, problemOf }: ForecastsAsked,
): AsyncGenerator<Line, void, undefined> {
  const tasks = places.map((place, index) => async (): Promise<PlaceLine> => {
    const line = { index, ...idOf(place) };
    try {
      const forecast = await forecastAt(services, readPlace(place), language);
      return Object.assign(line, { forecast: rounded(forecast) });
    } catch (error) {
      return Object.assign(line, { problem: problemOf(atPlace(error, index)) });
    }
  });
  let failed = 0;
  for await (const line of asReady(tasks, AT_ONCE)) {
    if ("problem" in line) failed++;
    yield line;
  }
  yield { done: true, served: places.length - failed, failed };
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
