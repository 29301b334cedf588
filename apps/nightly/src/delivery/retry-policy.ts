export interface RetryPolicy {
  /** Tries in all before a delivery rests in the dead-letter list. */
  readonly attempts: number;
  /** Wait after the first failure [ms]; it doubles with each further one. */
  readonly baseMs: number;
  /** Longest wait [ms], a receiver's own wish aside. */
  readonly longestMs: number;
}

/**
 * How long to wait after so many failures [ms]: exponential, its upper half left to chance so that a thousand deliveries
 * do not come back at once; never less than the receiver asked for.
 */
export function waitMs(policy: RetryPolicy, failures: number, requestedMs: number, random: () => number): number {
  const whole = Math.min(policy.longestMs, policy.baseMs * 2 ** (failures - 1));
  return Math.max(requestedMs, whole * (0.5 + 0.5 * random()));
}
