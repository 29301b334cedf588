import { offeredTypes } from "../http/representations";
import type { RouteTable } from "../http/route-table";
import type { ProblemKey } from "../problems/catalogue";
import { type ProblemDetails, problemAnswer } from "../problems/problem";
import type { Services } from "../services";
import { accessEntry } from "./access-log";
import { keyIn } from "./api-key";
import { type Asked, targetOf } from "./asked";
import { corsFields, preflightFields } from "./cors";
import { deprecationFields } from "./deprecation";
import { chosenEncoding, LEAST_BYTES_TO_COMPRESS } from "./encoding";
import { fingerprint } from "./entity-tag";
import { type Answer, Exchange } from "./exchange";
import { getAnswer } from "./get-answer";
import { KeptAnswer } from "./kept-answer";
import { cacheControl, LIFETIMES, type Lifetime, maxAgeSeconds } from "./lifetime";
import type { OperationPolicy } from "./operation-policy";
import type { PolicySettings } from "./policy-settings";
import { rateLimitFields } from "./rate-limit";
import { lastingFields, respond, respondToHead } from "./respond";
import { ResponseCache } from "./response-cache";

/** The app's own fetch, which finds the exchange in its environment. */
export type Inner = (request: Request, env: object) => Response | Promise<Response>;

type Run = () => Response | Promise<Response>;

/** An exchange that is over but for the writing. */
export interface Exchanged {
  readonly exchange: Exchange;
  readonly answer: Answer;
}

export interface PolicyParts {
  readonly services: Services;
  readonly settings: PolicySettings;
  readonly routeOf: RouteTable;
  /** What was declared for a route, by method and template. */
  readonly policyOf: (method: string, template: string) => OperationPolicy | undefined;
}

const DEFAULT_CACHE_BYTES = 64_000_000;
const NOTHING_DECLARED: OperationPolicy = {};
const NO_ORIGINS: readonly string[] = [];
const COME_BACK = { "retry-after": "1" };
const encoder = new TextEncoder();

/**
 * The policies, standing round the app: a fetch function again. They are no middleware, since a response that was made is dear to change: here every
 * field is known before the one response is made, and an answer that was kept never reaches the router.
 */
export class Policies {
  readonly #parts: PolicyParts;
  readonly #cache: ResponseCache | undefined;
  #inFlight = 0;

  constructor(parts: PolicyParts) {
    this.#parts = parts;
    const { services, settings } = parts;
    const maxBytes = settings.responseCacheBytes ?? DEFAULT_CACHE_BYTES;
    if (maxBytes > 0) {
      const dataVersion = (): string => services.terrain?.dataVersion ?? "";
      this.#cache = new ResponseCache({ maxBytes, dataVersion, nowMs: () => services.nowMs() });
    }
    settings.metrics?.setInFlight(() => this.#inFlight);
  }

  /** Requests that were taken and are not answered yet. */
  get inFlight(): number {
    return this.#inFlight;
  }

  /** @param inner the app's own fetch */
  async fetch(inner: Inner, request: Request, env: object): Promise<Response> {
    const { method } = request;
    // to the router HEAD is GET, so that both get the same fields
    const asked = method === "HEAD" ? new Request(request, { method: "GET" }) : request;
    const exchange = this.#open(asked, targetOf(request));
    const run = (): Response | Promise<Response> => inner(asked, { ...env, exchange });
    const answer = await this.#observed(exchange, method, () =>
      this.#judge(exchange, env, () => this.#answer(exchange, run)),
    );
    return method === "HEAD" ? respondToHead(exchange, answer) : respond(exchange, answer);
  }

  /**
   * The same for a GET whose answer is kept, for a platform that can write it without a web Request and Response: these cost more than all else
   * that is left to do.
   * @param target path and query, as they came
   * @returns undefined where nothing is kept: then it is for `fetch`
   */
  answerKept(request: Asked, target: string, env: object): Promise<Exchanged> | undefined {
    if (request.method !== "GET" || this.#cache === undefined || !target.startsWith("/v1/")) return undefined;
    const kept = this.#cache.find(keyOf(request, target));
    if (kept === undefined) return undefined;
    const exchange = new Exchange(request, target);
    exchange.matched = kept.matched;
    return this.#observed(exchange, "GET", () => this.#judge(exchange, env, () => this.#fromKept(exchange, kept))).then(
      (answer) => {
        if (answer.lasting !== true) exchange.standing = this.#standingOf(exchange);
        return { exchange, answer };
      },
    );
  }

  /** Within a span, counted and logged. */
  async #observed(exchange: Exchange, method: string, judge: () => Promise<Answer>): Promise<Answer> {
    const startedMs = performance.now();
    const { tracing, log, metrics } = this.#parts.settings;
    this.#inFlight++;
    try {
      const answer = tracing === undefined ? await judge() : await tracing.within(exchange, method, judge);
      const ms = performance.now() - startedMs;
      metrics?.answered(exchange.template ?? "unmatched", method, answer.status, ms / 1000);
      log?.(accessEntry(exchange, method, answer.status, ms));
      return answer;
    } finally {
      this.#inFlight--;
    }
  }

  #open(request: Asked, target: string): Exchange {
    const { routeOf, policyOf } = this.#parts;
    const exchange = new Exchange(request, target);
    const template = routeOf(exchange.path)?.template;
    const policy = (template !== undefined && policyOf(request.method, template)) || NOTHING_DECLARED;
    exchange.matched = { template, policy };
    exchange.standing = this.#standingOf(exchange);
    return exchange;
  }

  /** What stands on every answer to the like; of a GET it is the same for all callers. */
  #standingOf(exchange: Exchange): Record<string, string> {
    const { request, policy } = exchange;
    const vary = this.#varyOf(exchange);
    const cors = corsFields(request, this.#parts.settings.corsOrigins ?? NO_ORIGINS);
    return {
      ...(vary !== "" && { vary }),
      ...cors,
      ...(vary !== "" && cors?.["vary"] !== undefined && { vary: `${vary}, ${cors["vary"]}` }),
      ...(policy.deprecation && deprecationFields(policy.deprecation)),
    };
  }

  /** The fields of a request that the answer depends on, so that caches tell answers apart. */
  #varyOf({ request, path }: Exchange): string {
    const byType = offeredTypes(request.method, path).length > 1 ? "Accept" : "";
    if (this.#parts.settings.compress === undefined) return byType;
    return byType === "" ? "Accept-Encoding" : "Accept, Accept-Encoding";
  }

  /** Whether the request is taken at all; the cheapest question first. */
  async #judge(exchange: Exchange, env: object, answer: () => Answer | Promise<Answer>): Promise<Answer> {
    const { request, path } = exchange;
    const { settings, services } = this.#parts;
    const preflight = preflightFields(request, settings.corsOrigins ?? NO_ORIGINS);
    if (preflight !== undefined) {
      Object.assign(exchange.fields, preflight);
      return { status: 204, body: null, fields: {} };
    }
    if (!path.startsWith("/v1/")) return answer();
    try {
      return (await this.#refuse(exchange, env)) ?? (await answer());
    } catch (error) {
      services.reportFault(error, exchange.requestId);
      return refusal(exchange, "internal", { detail: "The service met a fault of its own." });
    }
  }

  /** Who has no key, or has asked too often. */
  async #refuse(exchange: Exchange, env: object): Promise<Answer | undefined> {
    const { request, policy } = exchange;
    const { apiKeys, rateLimiter, clientOf } = this.#parts.settings;
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
    const taken = await rateLimiter.take(client ?? clientOf?.(request, env) ?? "all", policy.points ?? 1);
    const fields = rateLimitFields(rateLimiter, taken);
    Object.assign(exchange.fields, fields);
    if (taken.allowed) return undefined;
    const detail = `More than ${rateLimiter.points} requests in ${rateLimiter.windowSeconds} s; some operations count for several.`;
    return refusal(exchange, "too-many-requests", { detail, headers: { "retry-after": String(taken.resetSeconds) } });
  }

  async #answer(exchange: Exchange, run: Run): Promise<Answer> {
    const { request, target } = exchange;
    if (request.method !== "GET") return this.#compressed(exchange, await this.#inTime(exchange, run));
    const { settings } = this.#parts;
    const key = keyOf(request, target);
    const found = this.#cache?.find(key);
    if (found !== undefined) return this.#fromKept(exchange, found);
    const dataVersion = this.#cache?.dataVersion ?? "";
    const answer = await this.#inTime(exchange, run);
    const lifetime = lifetimeOf(exchange, answer);
    const ageSeconds = maxAgeSeconds(lifetime, exchange.query, answer.day, this.#parts.services.nowMs());
    const control = cacheControl(lifetime, settings.apiKeys !== undefined, ageSeconds);
    const fields = { ...answer.fields, "cache-control": control };
    if (lifetime === "momentary" || answer.status !== 200) return this.#compressed(exchange, { ...answer, fields });
    const body = await bytesOf(answer.body);
    const { matched } = exchange;
    const hash = fingerprint(body);
    const parts = { body, hash, maxAgeSeconds: ageSeconds, fields: lastingFields(exchange, fields), matched };
    if (!LIFETIMES[lifetime].kept || this.#cache === undefined) {
      return getAnswer(exchange, new KeptAnswer(parts, dataVersion, 0), settings.compress);
    }
    settings.metrics?.cacheLookedUp(false);
    return getAnswer(exchange, this.#cache.keep(key, parts, dataVersion), settings.compress);
  }

  #fromKept(exchange: Exchange, kept: KeptAnswer): Answer | Promise<Answer> {
    const { settings, services } = this.#parts;
    settings.metrics?.cacheLookedUp(true);
    const age = kept.ageSeconds(services.nowMs());
    if (age > 0) exchange.fields["age"] = String(age);
    return getAnswer(exchange, kept, settings.compress);
  }

  /** What the app answers, or that it took too long. */
  async #inTime(exchange: Exchange, run: Run): Promise<Answer> {
    const { deadlineMs } = this.#parts.settings;
    const response = run();
    if (!(response instanceof Promise)) return exchange.answerBehind(response);
    if (deadlineMs === undefined) return exchange.answerBehind(await response);
    return new Promise((resolve, reject) => {
      const timer = setTimeout(() => {
        exchange.abort();
        const detail = `The answer would take longer than ${deadlineMs / 1000} s.`;
        resolve(refusal(exchange, "unavailable", { detail, headers: COME_BACK }));
      }, deadlineMs);
      response.then(
        (inTime) => {
          clearTimeout(timer);
          resolve(exchange.answerBehind(inTime));
        },
        (error: unknown) => {
          clearTimeout(timer);
          reject(error);
        },
      );
    });
  }

  /** An answer to one caller, squeezed where that is worth it. */
  #compressed({ request }: Exchange, answer: Answer): Answer | Promise<Answer> {
    const { compress } = this.#parts.settings;
    const { body, fields } = answer;
    if (compress === undefined || typeof body !== "string" || body.length < LEAST_BYTES_TO_COMPRESS) return answer;
    const encoding = chosenEncoding(request.headers.get("accept-encoding"));
    if (encoding === "identity") return answer;
    return compress(encoder.encode(body), encoding).then(
      (squeezed) => ({ ...answer, body: squeezed, fields: { ...fields, "content-encoding": encoding } }),
      // the plain one serves as well
      () => answer,
    );
  }
}

/** A problem that the policies themselves answer with: true for the moment. */
function refusal(exchange: Exchange, key: ProblemKey, details: ProblemDetails): Answer {
  const answer = problemAnswer(exchange, key, details);
  return { ...answer, fields: { ...answer.fields, "cache-control": cacheControl("momentary", true, 0) } };
}

/** What was asked, as it came: the wanted type and the raw URL. */
function keyOf({ headers }: Asked, target: string): string {
  const accept = headers.get("accept");
  return accept === null || accept === "*/*" ? target : `${accept}\n${target}`;
}

function lifetimeOf({ policy: { lifetime }, query }: Exchange, { status, passing }: Answer): Lifetime {
  if (status !== 200) return "momentary";
  if (lifetime === undefined) return "compared";
  const declared = typeof lifetime === "function" ? lifetime(query) : lifetime;
  return declared === "settled" && passing === true ? "passing" : declared;
}

async function bytesOf(body: Answer["body"]): Promise<Uint8Array<ArrayBuffer>> {
  if (body instanceof Uint8Array) return body;
  if (typeof body === "string") return encoder.encode(body);
  return new Uint8Array(await new Response(body).arrayBuffer());
}
