import type { RequestContext } from "./request-context";

/** A span around each request. */
export interface Tracing {
  /** Runs what answers within a span of its own, child of the caller's where there is one. */
  within<T extends { readonly status: number }>(context: RequestContext, answer: () => Promise<T>): Promise<T>;
  /** Sends what is left. */
  close(): Promise<void>;
}
