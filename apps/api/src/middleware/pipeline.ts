import { accessEntry } from "./access-log";
import type { Answer } from "./answer";
import { authorize } from "./api-key";
import { compressed } from "./compression";
import { preflightHeaders } from "./cors";
import { withDeadline } from "./deadline";
import { errorAnswer, type FaultSink } from "./error-answer";
import { Load } from "./load";
import type { PolicySettings } from "./policy-settings";
import { takePoints } from "./rate-limit";
import { type Matched, RequestContext } from "./request-context";
import { respond } from "./respond";
import { type CacheSources, ResponseCache } from "./response-cache";

/** An operation as the policies see it: what the router matched, how its input is read, and what answers. */
export interface Guarded<Input = unknown> extends Matched {
  /** Reads and judges the input; what it throws is answered as a problem. */
  readonly read: (context: RequestContext) => Promise<Input> | Input;
  readonly answer: (context: RequestContext, input: Input) => Promise<Answer> | Answer;
}

/** What a platform hands over beside a request. */
export interface Platform {
  readonly env: object;
  readonly params?: Readonly<Record<string, string>>;
}

/**
 * The policies around every operation, in their order: the cheapest refusal first. Each request passes here once, whatever brought it, and the one
 * response is made at the end, with every header in it.
 */
export class Pipeline {
  readonly #settings: PolicySettings;
  readonly #faults: FaultSink;
  readonly #load: Load;
  readonly #cache: ResponseCache;

  constructor(settings: PolicySettings, sources: CacheSources & FaultSink) {
    this.#settings = settings;
    this.#faults = sources;
    this.#load = new Load(settings);
    this.#cache = new ResponseCache(settings, sources);
  }

  /** Answer a request for an operation. It never throws. */
  async respond<Input>(request: Request, operation: Guarded<Input>, { env, params }: Platform): Promise<Response> {
    const { tracing, log, metrics } = this.#settings;
    const startedMs = performance.now();
    const context = new RequestContext(request, operation, params);
    const work = async (): Promise<Answer> => {
      try {
        return await this.#judged(context, operation, env);
      } catch (error) {
        return errorAnswer(context, this.#faults, error);
      } finally {
        context.end();
      }
    };
    const answer = await (tracing === undefined ? work() : tracing.within(context, work));
    const ms = performance.now() - startedMs;
    metrics?.answered(operation.template, request.method, answer.status, ms / 1000);
    log?.(accessEntry(context, answer.status, ms));
    return respond(context, answer, this.#settings);
  }

  /** Decide whether the request is taken at all, then read it and answer it. */
  async #judged<Input>(context: RequestContext, operation: Guarded<Input>, env: object): Promise<Answer> {
    const { policy } = operation;
    const preflight = preflightHeaders(context.request, this.#settings.corsOrigins ?? []);
    if (preflight !== undefined) {
      Object.assign(context.headers, preflight);
      return { status: 204, body: null, headers: {} };
    }
    if (policy.access === "open") return this.#answered(context, operation);
    const refusal = this.#load.refuse(context);
    if (refusal !== undefined) return refusal;
    const client = this.#clientOf(context, env);
    if (typeof client !== "string") return client;
    context.client = client;
    // of every request; what its work costs is taken once that is known, and not for what is cached
    const refused = await this.#take(context, 1);
    return refused ?? this.#answered(context, operation);
  }

  /** The name under which a client's points are counted, or the refusal of one that has no key. */
  #clientOf(context: RequestContext, env: object): string | Answer {
    const { apiKeys, clientOf, rateLimiter } = this.#settings;
    if (apiKeys !== undefined) {
      const authorized = authorize(context, apiKeys);
      return "refusal" in authorized ? authorized.refusal : `key:${authorized.holder}`;
    }
    return (rateLimiter && clientOf?.(context.request, env)) ?? "all";
  }

  async #take(context: RequestContext, points: number): Promise<Answer | undefined> {
    const { rateLimiter } = this.#settings;
    if (rateLimiter === undefined || context.client === undefined || points <= 0) return undefined;
    return takePoints(context, rateLimiter, context.client, points);
  }

  async #answered<Input>(context: RequestContext, operation: Guarded<Input>): Promise<Answer> {
    const compute = async (): Promise<Answer> => {
      const input = await operation.read(context);
      const { points = 1 } = operation.policy;
      const cost = typeof points === "function" ? points(input) : points;
      const refused = await this.#take(context, cost - 1);
      if (refused !== undefined) return refused;
      const answer = await this.#load.count(() =>
        withDeadline(context, () => this.#answeredOrProblem(context, operation, input), this.#settings.deadlineMs),
      );
      await this.#take(context, context.charged);
      return answer;
    };
    if (context.method === "GET") return this.#cache.answer(context, compute);
    return compressed(context, await compute(), this.#settings.compress);
  }

  async #answeredOrProblem<Input>(context: RequestContext, operation: Guarded<Input>, input: Input): Promise<Answer> {
    try {
      return await operation.answer(context, input);
    } catch (error) {
      return errorAnswer(context, this.#faults, error);
    }
  }
}
