import type { CoarsePlace, RequestContext } from "./request-context";

/** A line of the log for each request: nothing that names a person, a key, or a place more precisely than to some ten kilometres. */
export interface AccessEntry {
  readonly requestId: string;
  readonly traceId?: string | undefined;
  readonly method: string;
  readonly route: string;
  readonly status: number;
  readonly ms: number;
  readonly near?: CoarsePlace | undefined;
}

export type AccessLog = (entry: AccessEntry) => void;

export function accessEntry(context: RequestContext, status: number, ms: number): AccessEntry {
  const { requestId, traceId, matched, request } = context;
  const near = context.near ?? undefined;
  return {
    requestId,
    traceId,
    method: request.method,
    route: matched.template,
    status,
    ms: Math.round(ms * 10) / 10,
    near,
  };
}
