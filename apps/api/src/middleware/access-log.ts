import type { Exchange } from "./exchange";
import type { Near } from "./near";

/** A line of the log for each request: nothing that names a person, a key, or a place better than to some ten kilometres. */
export interface AccessEntry {
  readonly requestId: string;
  readonly traceId?: string | undefined;
  readonly method: string;
  readonly route: string;
  readonly status: number;
  readonly ms: number;
  readonly near?: Near | undefined;
}

export type AccessLog = (entry: AccessEntry) => void;

export function accessEntry(exchange: Exchange, method: string, status: number, ms: number): AccessEntry {
  const { requestId, traceId, template } = exchange;
  const near = exchange.near ?? undefined;
  return { requestId, traceId, method, route: template ?? "unmatched", status, ms: Math.round(ms * 10) / 10, near };
}
