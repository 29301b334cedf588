import type { Redis } from "ioredis";
import { RateLimiterMemory, RateLimiterRedis, RateLimiterRes } from "rate-limiter-flexible";
import type { RateLimiter, Taken } from "../policies/rate-limit";
import { MemoryWindows } from "./memory-windows";

const WINDOW_SECONDS = 60;
const NAME = { keyPrefix: "fieldstop:limit", duration: WINDOW_SECONDS };

/** Counts in Redis, so that all replicas share one limit; while Redis is away each counts for itself. Without Redis, in memory. */
export function rateLimiter(points: number, redis?: Redis): RateLimiter {
  const limit = { points, windowSeconds: WINDOW_SECONDS };
  if (redis === undefined) {
    const windows = new MemoryWindows(limit, () => Date.now());
    return { ...limit, take: (client, cost) => windows.take(client, cost) };
  }
  const counter = new RateLimiterRedis({
    ...NAME,
    points,
    storeClient: redis,
    insuranceLimiter: new RateLimiterMemory({ ...NAME, points }),
    // those who are over the limit cost Redis nothing until it is over
    inMemoryBlockOnConsumed: points,
    rejectIfRedisNotReady: true,
  });
  const take = async (client: string, cost: number): Promise<Taken> => {
    try {
      return takenOf(await counter.consume(client, cost), true);
    } catch (refusal) {
      if (refusal instanceof RateLimiterRes) return takenOf(refusal, false);
      throw refusal;
    }
  };
  return { ...limit, take };
}

function takenOf({ remainingPoints, msBeforeNext }: RateLimiterRes, allowed: boolean): Taken {
  return { allowed, remaining: remainingPoints, resetSeconds: Math.max(1, Math.ceil(msBeforeNext / 1000)) };
}
