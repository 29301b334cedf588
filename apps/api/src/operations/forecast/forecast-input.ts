import type { Assumption, ForecastSession } from "@fieldstop/core";
import { type OutingInput, outingInput } from "@fieldstop/operations";
import type { z } from "@hono/zod-openapi";
import type { ToldWeather } from "../../formats/told";
import type { Services } from "../../services";
import type { ForecastRequest } from "./forecast.schema";
import { forecastWeatherAt } from "./forecast-weather-at";

/** All that a forecast is computed from, as plain data. */
export interface ForecastInput {
  readonly outing: OutingInput;
  readonly session: ForecastSession;
  readonly weather?: ToldWeather | undefined;
  /** What was assumed for want of weather. */
  readonly weatherAssumptions: readonly Assumption[];
}

/**
 * Look up what a forecast needs: weather, zone, tide, terrain.
 * @throws DomainError, Refusal for a place or a day that cannot be
 */
export async function forecastInput(
  services: Services,
  request: z.output<typeof ForecastRequest>,
): Promise<ForecastInput> {
  const { id: _, session = "evening", camera = {}, ...input } = request;
  const { sky, weather, assumptions } = await forecastWeatherAt(services, { session, ...input });
  const outing = await outingInput(services, { ...input, session, camera, ...(sky && { sky }) });
  return { outing, session, weather, weatherAssumptions: assumptions };
}
