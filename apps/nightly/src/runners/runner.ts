/** How a run goes. */
export interface RunOptions {
  /** One pass, then an end; otherwise on and on until it is stopped. */
  readonly once: boolean;
  /** In a single pass: only what is due by the places' own hours. */
  readonly due: boolean;
  /** In a single pass: the night of this date. */
  readonly date?: string | undefined;
  /** In a single pass: how long failed deliveries are tried again before they are left for the next run [ms]. */
  readonly patienceMs: number;
  /** Deliveries on their way at once. */
  readonly concurrency: number;
}

/** What a single pass came to. */
export interface RunResult {
  /** Whether the service could be asked for all forecasts. */
  readonly forecasts: "made" | "unreachable";
  /** Deliveries that still wait for another try. */
  readonly waiting: number;
}
