import type { Forecast } from "@fieldstop/sdk";
import type { Place } from "../places/place";

/** One forecast that is wanted. */
export interface Wanted {
  readonly place: Place;
  /** Local date of the night. */
  readonly date: string;
}

/** What became of one: its forecast, or why the service makes none. */
export type Made =
  | { readonly wanted: Wanted; readonly forecast: Forecast }
  | { readonly wanted: Wanted; readonly refused: string };

/** Makes forecasts: each is handed on as soon as it is there. Ends early by throwing, what is missing to be asked again. */
export interface ForecastSource {
  make(wanted: readonly Wanted[], signal: AbortSignal): AsyncIterable<Made>;
}

/** The service did not answer, or not to the end: asking again later may help. */
export class ServiceOutage extends Error {
  override readonly name = "ServiceOutage";
}
