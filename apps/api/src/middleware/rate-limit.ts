import type { Soon } from "./soon";

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
  take(client: string, cost: number): Soon<Taken>;
}

const NAME = '"client"';

/** Sets the fields of the IETF httpapi draft (RateLimit header fields for HTTP): what is allowed, and what is left of it. */
export function setRateLimitFields(
  fields: Record<string, string>,
  { points, windowSeconds }: RateLimiter,
  { remaining, resetSeconds }: Taken,
): void {
  fields["ratelimit-policy"] = `${NAME};q=${points};w=${windowSeconds}`;
  fields["ratelimit"] = `${NAME};r=${remaining};t=${resetSeconds}`;
}
