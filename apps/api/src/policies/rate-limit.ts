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

/** The fields of the IETF httpapi draft (RateLimit header fields for HTTP): what is allowed, and what is left of it. */
export function rateLimitFields({ points, windowSeconds }: RateLimiter, taken: Taken): Record<string, string> {
  return {
    "ratelimit-policy": `${NAME};q=${points};w=${windowSeconds}`,
    ratelimit: `${NAME};r=${taken.remaining};t=${taken.resetSeconds}`,
  };
}
