import type { OverloadReason } from "../middleware/metrics";
import type { PolicySettings } from "../middleware/policy-settings";
import { apiKeysFromFile } from "./api-keys";
import { clientAddressOf } from "./client-address";
import { compress } from "./compress";
import type { Config } from "./config";
import { eventLoopLags } from "./event-loop-lag";
import type { ServiceLog } from "./log";
import { prometheusMetrics } from "./metrics";
import { rateLimiter } from "./rate-limiter";
import { readinessCheck } from "./readiness";
import type { NodeServices } from "./services";

/** Every policy, as the configuration has it. */
export async function nodePolicies(
  config: Config,
  { log, access }: ServiceLog,
  { pool, redis, elevation, terrainSources }: NodeServices["parts"],
  stopping: () => boolean,
): Promise<PolicySettings> {
  const traced = config.otel === "on" || (config.otel !== "off" && config.otelEndpoint !== undefined);
  return {
    responseCacheBytes: config.responseCacheMb * 1_000_000,
    compress,
    corsOrigins: config.corsOrigins,
    ...(config.apiKeys !== undefined && { apiKeys: apiKeysFromFile(config.apiKeys, log) }),
    ...(config.rateLimit !== "off" && { rateLimiter: rateLimiter(config.rateLimit, redis) }),
    clientOf: clientAddressOf(config.trustedProxies),
    deadlineMs: config.requestTimeoutSeconds * 1000,
    maxConcurrentRequests: config.maxConcurrentRequests,
    eventLoopLags: eventLoopLags(),
    onShed: oncePerSecond((count, why) => log.warn({ shed: count, why }, "more is asked than can be answered in time")),
    ...(access && { log: access }),
    metrics: prometheusMetrics({ waiting: () => pool.waiting }),
    readiness: readinessCheck({ elevation, terrainSources, pool, stopping, ...(redis && { redis }) }),
    ...(traced && { tracing: (await import("./tracing")).openTelemetry() }),
  };
}

/** Gather calls and tell of them once a second: a line for each would be more work than the answer. */
function oncePerSecond(tell: (count: number, why: OverloadReason) => void): (why: OverloadReason) => void {
  let count = 0;
  return (why) => {
    if (count++ > 0) return;
    setTimeout(() => {
      tell(count, why);
      count = 0;
    }, 1000).unref();
  };
}
