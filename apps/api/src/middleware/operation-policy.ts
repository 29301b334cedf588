import type { Deprecation } from "./deprecation";
import type { Lifetime } from "./lifetime";

/** What the policies must know of an operation; stands beside its route. */
export interface OperationPolicy {
  /** How long the answer to this query holds; a GET that does not say is asked for anew each time, and compared by its tag. */
  readonly lifetime?: Lifetime | ((query: string) => Lifetime);
  /** How many requests it counts for against a client's limit; default 1. */
  readonly points?: number;
  /** Where callers should go over to something else. */
  readonly deprecation?: Deprecation;
}
