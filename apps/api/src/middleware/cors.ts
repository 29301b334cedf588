/** Which pages may send bodies and read the answers: those of these origins, of all, or none; `off` refuses reading as well. */
export type CorsOrigins = readonly string[] | "*" | "off";

const READABLE = "Age, ETag, Deprecation, Link, RateLimit, RateLimit-Policy, Retry-After, Sunset, X-Request-Id";
const SENDABLE = "Accept, Authorization, Content-Type, If-None-Match, traceparent, X-Request-Id";
const KEPT_SECONDS = "7200";

/** The same for every origin, and there without one too, so that a cache's copy serves all pages alike. */
const READ_BY_ALL = { "access-control-allow-origin": "*", "access-control-expose-headers": READABLE };

/** The headers that let a page of another origin read an answer (Fetch standard, 3.3). */
export function corsHeaders({ method, headers }: Request, origins: CorsOrigins): Record<string, string> | undefined {
  if (origins === "off") return undefined;
  if (method === "GET" || method === "HEAD") return READ_BY_ALL;
  const origin = headers.get("origin");
  if (origin === null) return undefined;
  if (origins === "*") return READ_BY_ALL;
  return origins.includes(origin)
    ? { ...READ_BY_ALL, "access-control-allow-origin": origin, vary: "Origin" }
    : undefined;
}

/** What a page may send, if the request is the question whether it may. */
export function preflightHeaders(
  { method, headers }: Request,
  origins: CorsOrigins,
): Record<string, string> | undefined {
  if (method !== "OPTIONS" || origins === "off") return undefined;
  const origin = headers.get("origin");
  if (origin === null || headers.get("access-control-request-method") === null) return undefined;
  const maySend = origins === "*" || origins.includes(origin);
  return {
    "access-control-allow-origin": "*",
    "access-control-allow-methods": maySend ? "GET, HEAD, POST" : "GET, HEAD",
    "access-control-allow-headers": SENDABLE,
    "access-control-max-age": KEPT_SECONDS,
    vary: "Origin",
  };
}
