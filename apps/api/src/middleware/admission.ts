import { keyIn } from "./api-key";
import type { Answer, Exchange } from "./exchange";
import type { PolicySettings } from "./policy-settings";
import { type RateLimiter, setRateLimitFields, type Taken } from "./rate-limit";
import { refusal } from "./refusal";
import { andThen, type Soon } from "./soon";

type Settings = Pick<PolicySettings, "apiKeys" | "rateLimiter" | "clientOf">;

/** The refusal of who has no key, or has asked too often; undefined for all others. */
export function refusalOf(exchange: Exchange, env: object, settings: Settings): Soon<Answer | undefined> {
  const { request, policy } = exchange;
  const { apiKeys, rateLimiter, clientOf } = settings;
  let client: string | undefined;
  if (apiKeys !== undefined) {
    const key = keyIn(request);
    const holder = key === undefined ? undefined : apiKeys.holderOf(key);
    if (holder === undefined) {
      const detail = key === undefined ? "This service asks for a key." : "This key is not known here.";
      const headers = { "www-authenticate": `Bearer realm="fieldstop"` };
      return refusal(exchange, "unauthorized", {
        detail: `${detail} Send it as Authorization: Bearer <key>.`,
        headers,
      });
    }
    client = `key:${holder}`;
  }
  if (rateLimiter === undefined) return undefined;
  const taken = rateLimiter.take(client ?? clientOf?.(request, env) ?? "all", policy.points ?? 1);
  return andThen(taken, (window) => afterTaking(exchange, rateLimiter, window));
}

function afterTaking(exchange: Exchange, rateLimiter: RateLimiter, taken: Taken): Answer | undefined {
  setRateLimitFields(exchange.fields, rateLimiter, taken);
  if (taken.allowed) return undefined;
  const detail = `More than ${rateLimiter.points} requests in ${rateLimiter.windowSeconds} s; some operations count for several.`;
  return refusal(exchange, "too-many-requests", { detail, headers: { "retry-after": String(taken.resetSeconds) } });
}
