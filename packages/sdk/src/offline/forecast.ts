import { needsService } from "./answered.js";

/** Refused: the service writes the forecasts. The plan under each is that of `planOuting`, which needs none. */
export function getForecast(): Promise<never> {
  return needsService("/v1/forecast", "the service writes the forecasts; planOuting needs none");
}

/** Refused: the service writes the forecasts. */
// biome-ignore lint/correctness/useYield: it refuses before there is anything to yield
export async function* streamForecasts(): AsyncGenerator<never, void, undefined> {
  await needsService("/v1/forecasts", "the service writes the forecasts; planOuting needs none");
}
