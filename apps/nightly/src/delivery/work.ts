import type { Channel } from "../channels/channel";
import type { ForecastSource } from "../forecast/forecast-source";
import type { Ledger } from "../ledger/ledger";
import type { Place } from "../places/place";
import type { Journal } from "./journal";
import type { RetryPolicy } from "./retry-policy";

/** What a job works with, on one machine as on many. */
export interface Work {
  readonly ledger: Ledger;
  readonly places: ReadonlyMap<string, Place>;
  readonly channels: ReadonlyMap<string, Channel>;
  readonly forecasts: ForecastSource;
  readonly retry: RetryPolicy;
  readonly journal: Journal;
  readonly now: () => number;
  readonly random: () => number;
}
