import type { Answer } from "./answer";
import { problemAnswer } from "./error-answer";
import type { RequestContext } from "./request-context";

/** What a client's window looks like after a request. */
export interface Taken {
  readonly allowed: boolean;
  readonly remaining: number;
  readonly resetSeconds: number;
}

/** Counts what each client spends. */
export interface RateLimiter {
  readonly points: number;
  readonly windowSeconds: number;
  take(client: string, cost: number): Promise<Taken>;
}

const NAME = '"client"';

/** Take points from a client's window, tell what is left (IETF httpapi draft, RateLimit header fields), and refuse where that is too little. */
export async function takePoints(
  context: RequestContext,
  limiter: RateLimiter,
  client: string,
  cost: number,
): Promise<Answer | undefined> {
  const { allowed, remaining, resetSeconds } = await limiter.take(client, cost);
  context.headers["ratelimit-policy"] = `${NAME};q=${limiter.points};w=${limiter.windowSeconds}`;
  context.headers["ratelimit"] = `${NAME};r=${remaining};t=${resetSeconds}`;
  if (allowed) return undefined;
  const detail = `This request would exceed ${limiter.points} points in ${limiter.windowSeconds} s; an operation counts for the points that its description says.`;
  return problemAnswer(context, "too-many-requests", { detail, headers: { "retry-after": String(resetSeconds) } });
}
