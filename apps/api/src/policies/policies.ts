import { offeredTypes } from "../http/representations";
import type { RouteTable } from "../http/route-table";
import type { Services } from "../services";
import { deprecationFields } from "./deprecation";
import { chosenEncoding, LEAST_BYTES_TO_COMPRESS } from "./encoding";
import { fingerprint } from "./entity-tag";
import { type Answer, Exchange } from "./exchange";
import { getAnswer } from "./get-answer";
import { KeptAnswer } from "./kept-answer";
import { cacheControl, LIFETIMES, type Lifetime } from "./lifetime";
import type { OperationPolicy } from "./operation-policy";
import type { PolicySettings } from "./policy-settings";
import { respond, respondToHead } from "./respond";
import { ResponseCache } from "./response-cache";

/** The app's own fetch, which finds the exchange in its environment. */
export type Inner = (request: Request, env: object) => Response | Promise<Response>;

export interface PolicyParts {
  readonly services: Services;
  readonly settings: PolicySettings;
  readonly routeOf: RouteTable;
  /** What was declared for a route, by method and template. */
  readonly policyOf: (method: string, template: string) => OperationPolicy | undefined;
}

const DEFAULT_CACHE_BYTES = 64_000_000;
const NOTHING_DECLARED: OperationPolicy = {};
const encoder = new TextEncoder();

/**
 * The policies, standing round the app: a fetch function again. They are no middleware, since a response that was made is dear to change: here every
 * field is known before the one response is made, and an answer that was kept never reaches the router.
 */
export class Policies {
  readonly #parts: PolicyParts;
  readonly #cache: ResponseCache;

  constructor(parts: PolicyParts) {
    this.#parts = parts;
    const { services, settings } = parts;
    this.#cache = new ResponseCache({
      maxBytes: settings.responseCacheBytes ?? DEFAULT_CACHE_BYTES,
      dataVersion: () => services.terrain?.dataVersion ?? "",
      nowMs: () => services.nowMs(),
    });
  }

  /** @param inner the app's own fetch */
  async fetch(inner: Inner, request: Request, env: object): Promise<Response> {
    if (request.method === "HEAD") {
      // to the router it is GET, so that both get the same fields
      const exchange = this.#open(new Request(request, { method: "GET" }));
      return respondToHead(exchange, await this.#answer(inner, exchange, env));
    }
    const exchange = this.#open(request);
    return respond(exchange, await this.#answer(inner, exchange, env));
  }

  #open(request: Request): Exchange {
    const { routeOf, policyOf } = this.#parts;
    const exchange = new Exchange(request);
    const template = routeOf(exchange.path)?.template;
    exchange.template = template;
    exchange.policy = (template !== undefined && policyOf(request.method, template)) || NOTHING_DECLARED;
    const vary = this.#varyOf(exchange);
    if (vary !== "") exchange.fields["vary"] = vary;
    const { deprecation } = exchange.policy;
    if (deprecation !== undefined) Object.assign(exchange.fields, deprecationFields(deprecation));
    return exchange;
  }

  async #answer(inner: Inner, exchange: Exchange, env: object): Promise<Answer> {
    const { request } = exchange;
    if (request.method !== "GET") return this.#compressed(exchange, await run(inner, exchange, env));
    const { compress } = this.#parts.settings;
    const key = keyOf(exchange);
    const found = this.#cache.find(key);
    if (found !== undefined) {
      const age = found.ageSeconds(this.#parts.services.nowMs());
      if (age > 0) exchange.fields["age"] = String(age);
      return getAnswer(exchange, found, compress);
    }
    const { dataVersion } = this.#cache;
    const answer = await run(inner, exchange, env);
    const lifetime = lifetimeOf(exchange, answer);
    const fields = { ...answer.fields, "cache-control": cacheControl(lifetime, false) };
    if (lifetime === "momentary" || answer.status !== 200) return this.#compressed(exchange, { ...answer, fields });
    const body = await bytesOf(answer.body);
    const parts = { body, hash: fingerprint(body), lifetime, fields };
    const kept = LIFETIMES[lifetime].kept
      ? this.#cache.keep(key, parts, dataVersion)
      : new KeptAnswer(parts, dataVersion, 0);
    return getAnswer(exchange, kept, compress);
  }

  /** The fields of a request that the answer depends on, so that caches tell answers apart. */
  #varyOf({ request, path }: Exchange): string {
    const byType = offeredTypes(request.method, path).length > 1 ? ["Accept"] : [];
    return [...byType, ...(this.#parts.settings.compress ? ["Accept-Encoding"] : [])].join(", ");
  }

  /** An answer to one caller, squeezed where that is worth it. */
  async #compressed({ request }: Exchange, answer: Answer): Promise<Answer> {
    const { compress } = this.#parts.settings;
    const { body, fields } = answer;
    if (compress === undefined || typeof body !== "string" || body.length < LEAST_BYTES_TO_COMPRESS) return answer;
    const encoding = chosenEncoding(request.headers.get("accept-encoding"));
    if (encoding === "identity") return answer;
    const squeezed = await compress(encoder.encode(body), encoding);
    return { ...answer, body: squeezed, fields: { ...fields, "content-encoding": encoding } };
  }
}

async function run(inner: Inner, exchange: Exchange, env: object): Promise<Answer> {
  const response = await inner(exchange.request, { ...env, exchange });
  return exchange.answerBehind(response);
}

/** What was asked, as it came: the wanted type and the raw URL. */
function keyOf({ request, path, query }: Exchange): string {
  const accept = request.headers.get("accept");
  return `${accept === null || accept === "*/*" ? "" : accept}\n${path}?${query}`;
}

function lifetimeOf({ policy: { lifetime }, query }: Exchange, { status, passing }: Answer): Lifetime {
  if (status !== 200 || lifetime === undefined) return status === 200 ? "compared" : "momentary";
  const declared = typeof lifetime === "function" ? lifetime(query) : lifetime;
  return declared === "settled" && passing === true ? "passing" : declared;
}

async function bytesOf(body: Answer["body"]): Promise<Uint8Array<ArrayBuffer>> {
  if (body instanceof Uint8Array) return body;
  if (typeof body === "string") return encoder.encode(body);
  return new Uint8Array(await new Response(body).arrayBuffer());
}
