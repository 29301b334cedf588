import type { PolicySettings } from "../middleware/policy-settings";
import { apiKeysFromFile } from "./api-keys";
import { clientAddressOf } from "./client-address";
import { compress } from "./compress";
import type { Config } from "./config";
import type { ServiceLog } from "./log";
import { prometheusMetrics } from "./metrics";
import { rateLimiter } from "./rate-limiter";
import { readinessCheck } from "./readiness";
import type { NodeServices } from "./services";

/** Every policy, as the configuration has it. */
export async function nodePolicies(
  config: Config,
  { log, access }: ServiceLog,
  { pool, redis, elevation }: NodeServices["parts"],
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
    deadlineMs: config.deadlineSeconds * 1000,
    ...(access && { log: access }),
    metrics: prometheusMetrics({ waiting: () => pool.waiting }),
    readiness: readinessCheck({ elevation, pool, stopping, ...(redis && { redis }) }),
    ...(traced && { tracing: (await import("./tracing")).openTelemetry() }),
  };
}
