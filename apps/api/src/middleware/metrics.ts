/** What there is too much of where a request is turned away. */
export type OverloadReason = "in-flight" | "event-loop";

/** What is counted of each request. */
export interface Metrics {
  /** @param route the path as it was declared, so that there are only so many */
  answered(route: string, method: string, status: number, seconds: number): void;
  cacheLookedUp(hit: boolean): void;
  shed(why: OverloadReason): void;
  /** Read when asked for. */
  setInFlight(read: () => number): void;
  text(): Promise<{ readonly body: string; readonly type: string }>;
}
