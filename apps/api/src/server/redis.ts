import { Redis } from "ioredis";
import type { Logger } from "pino";

/** Longest that a request waits for Redis before it goes on without [ms]. */
const PATIENCE_MS = 100;
/** Longest between two tries to connect again [ms]. */
const MOST_BETWEEN_TRIES_MS = 1000;

/**
 * A connection that never keeps anyone waiting: while Redis is away every command fails at once, and the connection comes back by
 * itself. The log tells once of each time it goes and comes.
 */
export function connectRedis(url: string, log: Logger): Redis {
  const redis = new Redis(url, {
    enableOfflineQueue: false,
    maxRetriesPerRequest: 0,
    commandTimeout: PATIENCE_MS,
    connectTimeout: 1000,
    retryStrategy: (attempt) => Math.min(attempt * 100, MOST_BETWEEN_TRIES_MS),
  });
  let away = false;
  redis.on("error", (error) => {
    if (!away) log.warn({ err: error }, "Redis is away; going on without");
    away = true;
  });
  redis.on("ready", () => {
    if (away) log.info("Redis is back");
    away = false;
  });
  return redis;
}
