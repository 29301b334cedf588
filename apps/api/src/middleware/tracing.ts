import type { Exchange } from "./exchange";

/** A span round each exchange. */
export interface Tracing {
  /** Runs what answers within a span of its own, child of the caller's where there is one. */
  within<T extends { readonly status: number }>(
    exchange: Exchange,
    method: string,
    answer: () => Promise<T>,
  ): Promise<T>;
  /** Sends what is left. */
  close(): Promise<void>;
}
