import type { Redis } from "ioredis";
import { RateLimiterMemory, RateLimiterRedis, RateLimiterRes } from "rate-limiter-flexible";
import type { RateLimiter } from "../middleware/rate-limit";

const WINDOW_SECONDS = 60;
const NAME = { keyPrefix: "fieldstop:limit", duration: WINDOW_SECONDS };

/** Counts in Redis, so that all replicas share one limit; while Redis is away each counts for itself. Without Redis, in memory. */
export function rateLimiter(points: number, redis?: Redis): RateLimiter {
  const memory = new RateLimiterMemory({ ...NAME, points });
  const counter =
    redis === undefined
      ? memory
      : new RateLimiterRedis({
          ...NAME,
          points,
          storeClient: redis,
          insuranceLimiter: memory,
          // those who are over the limit cost Redis nothing until it is over
          inMemoryBlockOnConsumed: points,
          rejectIfRedisNotReady: true,
        });
  return {
    points,
    windowSeconds: WINDOW_SECONDS,
    take: async (client, cost) => {
      try {
        return takenOf(await counter.consume(client, cost), true);
      } catch (refusal) {
        if (refusal instanceof RateLimiterRes) return takenOf(refusal, false);
        throw refusal;
      }
    },
  };
}

function takenOf({ remainingPoints, msBeforeNext }: RateLimiterRes, allowed: boolean) {
  return { allowed, remaining: remainingPoints, resetSeconds: Math.max(1, Math.ceil(msBeforeNext / 1000)) };
}
