import type { AccessLog } from "./access-log";
import type { ApiKeys } from "./api-key";
import type { Compress } from "./compression";
import type { CorsOrigins } from "./cors";
import type { LoadSettings } from "./load";
import type { Metrics } from "./metrics";
import type { RateLimiter } from "./rate-limit";
import type { Readiness } from "./readiness";
import type { Tracing } from "./tracing";

/** What the policies need from outside; each is optional, so that the app runs wherever there is `fetch`. */
export interface PolicySettings extends LoadSettings {
  /** Most that cached responses may take; default 64 MB, 0 keeps none. */
  readonly responseCacheBytes?: number;
  readonly compress?: Compress;
  /** Pages that may send bodies too; default none, while all may read what a GET answers. */
  readonly corsOrigins?: CorsOrigins;
  /** Open to all without. */
  readonly apiKeys?: ApiKeys;
  /** No limit without. */
  readonly rateLimiter?: RateLimiter;
  /** Whom a request comes from, where it brings no key; by default all are one client. */
  readonly clientOf?: (request: Request, env: object) => string;
  /** Longest until the answer begins; no deadline without. */
  readonly deadlineMs?: number;
  readonly log?: AccessLog;
  readonly metrics?: Metrics;
  readonly readiness?: () => Promise<Readiness>;
  readonly tracing?: Tracing;
}
