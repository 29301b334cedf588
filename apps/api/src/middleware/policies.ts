import type { Services } from "../services";
import { accessEntry } from "./access-log";
import { refusalOf } from "./admission";
import { type Asked, targetOf } from "./asked";
import { corsFields, preflightFields } from "./cors";
import { deprecationFields } from "./deprecation";
import { chosenEncoding, LEAST_BYTES_TO_COMPRESS } from "./encoding";
import { fingerprint } from "./entity-tag";
import { type Answer, Exchange, type Matched } from "./exchange";
import { getAnswer } from "./get-answer";
import { inTime } from "./in-time";
import { KeptAnswer } from "./kept-answer";
import { cacheControl, LIFETIMES, type Lifetime, maxAgeSeconds } from "./lifetime";
import type { OperationPolicy } from "./operation-policy";
import type { PolicySettings } from "./policy-settings";
import { refusal } from "./refusal";
import { offeredTypes } from "./representations";
import { lastingFields, respond, respondToHead } from "./respond";
import { ResponseCache } from "./response-cache";
import type { RouteTable } from "./route-table";
import { andThen, orElse, type Soon } from "./soon";

/** The app's own fetch, which finds the exchange in its environment. */
export type Inner = (request: Request, env: object) => Response | Promise<Response>;

/** What answers a request that is taken. */
type Run = (exchange: Exchange) => Soon<Answer>;

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

interface Known {
  readonly matched: Matched;
  readonly standing: Exchange["standing"];
}

const DEFAULT_CACHE_BYTES = 64_000_000;
const NOTHING_DECLARED: OperationPolicy = {};
const NO_ORIGINS: readonly string[] = [];
const encoder = new TextEncoder();

/**
 * The policies, standing round the app: a fetch function again. They are no middleware, since a response that was made is dear to change: here every
 * field is known before the one response is made, and an answer that was kept never reaches the router.
 */
export class Policies {
  readonly #parts: PolicyParts;
  readonly #cache: ResponseCache | undefined;
  /** What was found out of a path and a method before. */
  readonly #known = new Map<string, Map<string, Known>>();
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
    const answer = await this.#exchanged(exchange, method, env, () =>
      andThen(inner(asked, Object.assign({}, env, { exchange })), (response) => exchange.answerBehind(response)),
    );
    return method === "HEAD" ? respondToHead(exchange, answer) : respond(exchange, answer);
  }

  /**
   * The same for a platform that can write an answer without a web Request and Response, which cost more than all else that is left to do.
   * @param target path and query, as they came
   * @param run what answers, if the request is taken
   */
  exchange(request: Asked, target: string, env: object, run: Run): Soon<Exchanged> {
    const exchange = this.#open(request, target);
    return andThen(this.#exchanged(exchange, request.method, env, run), (answer) => ({ exchange, answer }));
  }

  /**
   * The same for a GET whose answer is kept.
   * @returns undefined where nothing is kept: then it is for `fetch`
   */
  answerKept(request: Asked, target: string, env: object): Soon<Exchanged> | undefined {
    if (request.method !== "GET" || this.#cache === undefined || !target.startsWith("/v1/")) return undefined;
    const kept = this.#cache.find(keyOf(request, target));
    if (kept === undefined) return undefined;
    const exchange = new Exchange(request, target);
    exchange.matched = kept.matched;
    exchange.near = kept.near;
    const judged = this.#observed(exchange, "GET", () =>
      this.#judge(exchange, env, () => this.#fromKept(exchange, kept)),
    );
    return andThen(judged, (answer) => {
      if (answer.lasting !== true) exchange.standing = this.#standingOf(exchange);
      return { exchange, answer };
    });
  }

  #exchanged(exchange: Exchange, method: string, env: object, run: Run): Soon<Answer> {
    return this.#observed(exchange, method, () => this.#judge(exchange, env, () => this.#answer(exchange, run)));
  }

  /** Within a span, counted and logged. */
  #observed(exchange: Exchange, method: string, judge: () => Soon<Answer>): Soon<Answer> {
    const startedMs = performance.now();
    const { tracing, log, metrics } = this.#parts.settings;
    const over = (answer: Answer): Answer => {
      this.#inFlight--;
      const ms = performance.now() - startedMs;
      metrics?.answered(exchange.template ?? "unmatched", method, answer.status, ms / 1000);
      log?.(accessEntry(exchange, method, answer.status, ms));
      return answer;
    };
    this.#inFlight++;
    const failed = (error: unknown): never => {
      this.#inFlight--;
      throw error;
    };
    const observed = tracing === undefined ? judge : () => tracing.within(exchange, method, async () => judge());
    return andThen(orElse(observed, failed), over);
  }

  #open(request: Asked, target: string): Exchange {
    const exchange = new Exchange(request, target);
    const { method, headers } = request;
    const known = this.#known.get(exchange.path)?.get(method);
    exchange.matched = known?.matched ?? this.#matchedOf(method, exchange.path);
    const toAllAlike = method === "GET" || method === "HEAD" || headers.get("origin") === null;
    exchange.standing = (toAllAlike && known?.standing) || this.#standingOf(exchange);
    const { template, policy } = exchange.matched;
    // only paths without parameters: of those there are few
    if (known === undefined && toAllAlike && template === exchange.path && policy !== NOTHING_DECLARED) {
      const ofPath = this.#known.get(template) ?? new Map<string, Known>();
      ofPath.set(method, { matched: exchange.matched, standing: exchange.standing });
      this.#known.set(template, ofPath);
    }
    return exchange;
  }

  #matchedOf(method: string, path: string): Matched {
    const { routeOf, policyOf } = this.#parts;
    const template = routeOf(path)?.template;
    const policy = (template !== undefined && policyOf(method, template)) || NOTHING_DECLARED;
    return { template, policy };
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
  #judge(exchange: Exchange, env: object, answer: () => Soon<Answer>): Soon<Answer> {
    const { request, path } = exchange;
    const { settings, services } = this.#parts;
    const preflight = preflightFields(request, settings.corsOrigins ?? NO_ORIGINS);
    if (preflight !== undefined) {
      Object.assign(exchange.fields, preflight);
      return { status: 204, body: null, fields: {} };
    }
    if (!path.startsWith("/v1/")) return answer();
    return orElse(
      () => andThen(refusalOf(exchange, env, settings), (refused) => refused ?? answer()),
      (error) => {
        services.reportFault(error, exchange.requestId);
        return refusal(exchange, "internal", { detail: "The service met a fault of its own." });
      },
    );
  }

  #answer(exchange: Exchange, run: Run): Soon<Answer> {
    if (exchange.request.method === "GET") return this.#answerGet(exchange, run);
    return andThen(this.#inTime(exchange, run), (answer) => this.#compressed(exchange, answer));
  }

  async #answerGet(exchange: Exchange, run: Run): Promise<Answer> {
    const { request, target } = exchange;
    const { settings } = this.#parts;
    const key = keyOf(request, target);
    const found = this.#cache?.find(key);
    if (found !== undefined) return this.#fromKept(exchange, found);
    const dataVersion = this.#cache?.dataVersion ?? "";
    const answer = await this.#inTime(exchange, run);
    const lifetime = lifetimeOf(exchange, answer);
    const ageSeconds = maxAgeSeconds(lifetime, exchange.query, answer.day, this.#parts.services.nowMs());
    const control = cacheControl(lifetime, settings.apiKeys !== undefined, ageSeconds);
    const fields = Object.assign({}, answer.fields, { "cache-control": control });
    if (lifetime === "momentary" || answer.status !== 200) return this.#compressed(exchange, { ...answer, fields });
    const body = await bytesOf(answer.body);
    const { matched, near } = exchange;
    const hash = fingerprint(body);
    const parts = { body, hash, maxAgeSeconds: ageSeconds, fields: lastingFields(exchange, fields), matched, near };
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

  #inTime(exchange: Exchange, run: Run): Soon<Answer> {
    return inTime(exchange, run(exchange), this.#parts.settings.deadlineMs);
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
