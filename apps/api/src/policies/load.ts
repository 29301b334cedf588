/** How much the service takes on at once. */
export interface Load {
  readonly mostInFlight: number;
  /** How late the event loop runs [ms]. */
  readonly lagMs: () => number;
}

/** Beyond this what waits would be answered too late to be of use, and would make all others wait as long. */
export const MOST_LAG_MS = 150;

/** What there is too much of; undefined while there is room. */
export function overloaded({ mostInFlight, lagMs }: Load, inFlight: number): "in-flight" | "event-loop" | undefined {
  if (inFlight > mostInFlight) return "in-flight";
  return lagMs() > MOST_LAG_MS ? "event-loop" : undefined;
}
