/** What may go with any call. */
export interface CallOptions {
  /** Ends the call, its repetitions included. */
  readonly signal?: AbortSignal;
}
