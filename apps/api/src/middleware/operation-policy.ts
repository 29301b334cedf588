import type { Lifetime } from "./cache-control";
import type { Deprecation } from "./deprecation";

/** What the policies must know of an operation. It stands beside its route; an operation without one is not mounted. */
export interface OperationPolicy {
  /** `guarded`: needs a key where the service asks for one, counts against the limit, and is refused under overload. */
  readonly access: "guarded" | "open";
  /** How long the answer to this query holds; default `revalidate`. */
  readonly lifetime?: Lifetime | ((query: string) => Lifetime);
  /** What it costs against a client's limit, about 10 ms of processor time a point; default 1. */
  readonly points?: number | ((input: unknown) => number);
  /** Where callers should move to something else. */
  readonly deprecation?: Deprecation;
}
