import { createHash } from "node:crypto";
import { LRUCache } from "lru-cache";
import type { RateLimiter, Taken } from "../middleware/rate-limit";
import type { SharedRedis } from "./redis";

const WINDOW_MS = 60_000;
/** Clients remembered at most: some 20 MB. Of more, those that asked least recently begin anew. */
const MAX_CLIENTS = 100_000;
const MAX_REFUSED = 10_000;

/** What a client has spent in its window, and how much of the window is left [ms]. */
interface Spent {
  readonly spent: number;
  readonly leftMs: number;
}

/**
 * Counts in windows of a minute, which begin with a client's first request. In Redis, so that all replicas share one limit; while Redis
 * is away each counts for itself. Without Redis, in memory. Times are of clocks that only go forward: the cache's own is one.
 */
export function rateLimiter(points: number, redis?: SharedRedis): RateLimiter {
  const memory = new LRUCache<string, { spent: number }>({ max: MAX_CLIENTS, ttl: WINDOW_MS });
  // those who are over the limit cost Redis nothing until it is over
  const refused = new LRUCache<string, true>({ max: MAX_REFUSED, ttl: WINDOW_MS });
  return {
    points,
    windowSeconds: WINDOW_MS / 1000,
    take: async (client, cost) => {
      if (redis === undefined) return takenOf(spendHere(memory, client, cost), points);
      const refusedForMs = refused.getRemainingTTL(client);
      if (refusedForMs > 0) return takenOf({ spent: Number.POSITIVE_INFINITY, leftMs: refusedForMs }, points);
      const shared = await spendInRedis(redis, client, cost);
      if (shared === undefined) return takenOf(spendHere(memory, client, cost), points);
      if (shared.spent > points && shared.leftMs > 0) refused.set(client, true, { ttl: shared.leftMs });
      return takenOf(shared, points);
    },
  };
}

function spendHere(memory: LRUCache<string, { spent: number }>, client: string, cost: number): Spent {
  const counted = memory.get(client);
  if (counted === undefined) memory.set(client, { spent: cost });
  else counted.spent += cost;
  return { spent: counted?.spent ?? cost, leftMs: memory.getRemainingTTL(client) };
}

/** The key comes back with the counts, so that an answer to another question is known for one. */
const SPEND = `
local spent = redis.call("incrby", KEYS[1], ARGV[1])
local left = redis.call("pttl", KEYS[1])
local window = tonumber(ARGV[2])
if left < 0 or left > window then
  redis.call("pexpire", KEYS[1], window)
  left = window
end
return {KEYS[1], spent, left}`;

/** Undefined where Redis does not tell. */
async function spendInRedis(redis: SharedRedis, client: string, cost: number): Promise<Spent | undefined> {
  const key = keyOf(client);
  try {
    const reply: unknown = await redis.eval(SPEND, 1, key, cost, WINDOW_MS);
    const [echo, spent, leftMs] = Array.isArray(reply) ? (reply as unknown[]) : [];
    if (echo === key && isCount(spent) && isCount(leftMs) && leftMs <= WINDOW_MS) return { spent, leftMs };
    redis.misbehaved(new Error("Redis answered EVAL with something other than what a client has spent"));
  } catch {
    // away, or left alone
  }
  return undefined;
}

const isCount = (value: unknown): value is number => Number.isSafeInteger(value) && (value as number) >= 0;

/**
 * Addresses are not written into Redis as they are: who reads its keys does not see who called. The hash has no secret, so it does not
 * hide an address from someone who tries them all.
 */
function keyOf(client: string): string {
  return `fieldstop:limit:${createHash("sha256").update(`fieldstop client ${client}`).digest("base64url")}`;
}

function takenOf({ spent, leftMs }: Spent, points: number): Taken {
  return {
    allowed: spent <= points,
    remaining: Math.max(0, points - spent),
    resetSeconds: Math.max(1, Math.ceil(leftMs / 1000)),
  };
}
