// W3C Trace Context, 3.2.2; version ff is forbidden, ids of zeros mean nothing
const TRACE_PARENT = /^(?!ff)[0-9a-f]{2}-(?!0{32})([0-9a-f]{32})-(?!0{16})[0-9a-f]{16}-[0-9a-f]{2}(-.*)?$/;

/** The trace that a request belongs to; undefined where it brought none that makes sense. */
export function traceIdOf(request: Request): string | undefined {
  const brought = request.headers.get("traceparent");
  return brought === null ? undefined : TRACE_PARENT.exec(brought)?.[1];
}
