import { needsService } from "./needs-service.js";

/** Refused: the service writes the forecasts. The plan under each is that of `planOuting`, which needs none. */
export function getForecast(): Promise<never> {
  return needsService("/v1/forecast", "the service writes the forecasts; planOuting needs none");
}

/** Refused: the service draws the forecasts. */
export function drawForecast(): Promise<never> {
  return needsService("/v1/forecast.svg", "the service draws the forecasts; planOuting needs none");
}

/** Refused: the service writes the forecasts. */
export function listForecastCalendar(): Promise<never> {
  return needsService("/v1/forecast.ics", "the service writes the forecasts; planOuting needs none");
}

/** Refused: the service writes the forecasts. */
export function writeForecastMarkdown(): Promise<never> {
  return needsService("/v1/forecast.md", "the service writes the forecasts; planOuting needs none");
}

/** Refused: the service writes the forecasts. */
export function writeForecastText(): Promise<never> {
  return needsService("/v1/forecast.txt", "the service writes the forecasts; planOuting needs none");
}

/** Refused: the service writes the forecasts. */
// biome-ignore lint/correctness/useYield: it refuses before there is anything to yield
export async function* streamForecasts(): AsyncGenerator<never, void, undefined> {
  await needsService("/v1/forecasts", "the service writes the forecasts; planOuting needs none");
}
