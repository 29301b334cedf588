import { pathOf } from "./normal-path";
import type { OperationPolicy } from "./operation-policy";
import { requestIdOf } from "./request-id";
import { traceIdOf } from "./trace-parent";

/** The template of what matches no path. */
export const UNMATCHED = "unmatched";

/** What the router matched. */
export interface Matched {
  /** The path as it was declared, `/v1/reference/:table`; `unmatched` where there is none. */
  readonly template: string;
  readonly policy: OperationPolicy;
  /** Media types of its answers, its own choice first. */
  readonly types: readonly string[];
}

/** A place to some ten kilometres: the query's coordinates rounded to 0.1°. */
export type CoarsePlace = readonly [latitude: number, longitude: number];

/** One request, and what the policies know of it. */
export class RequestContext {
  readonly requestId: string;
  /** Of the trace that the caller is in. */
  traceId: string | undefined;
  /** HEAD is GET to everything but the writing of the answer. */
  readonly method: string;
  /** Path and query. */
  readonly target: string;
  readonly path: string;
  /** Without the question mark. */
  readonly query: string;
  /** Whose points it takes; undefined where nothing is counted. */
  client: string | undefined;
  /** Headers that belong to this request alone, whatever is answered. */
  readonly headers: Record<string, string>;
  #controller: AbortController | undefined;
  #reason: Error | undefined;
  #charged = 0;
  readonly #releases: (() => void)[] = [];
  #near: CoarsePlace | null | undefined;

  constructor(
    readonly request: Request,
    readonly matched: Matched,
    readonly params: Readonly<Record<string, string>> = {},
  ) {
    this.requestId = requestIdOf(request);
    this.traceId = traceIdOf(request);
    this.method = request.method === "HEAD" ? "GET" : request.method;
    const { url } = request;
    const start = url.indexOf("/", url.indexOf("://") + 3);
    this.target = start < 0 ? "/" : url.slice(start);
    this.path = pathOf(this.target);
    this.query = this.target.slice(this.path.length + 1);
    this.headers = { "x-request-id": this.requestId };
  }

  get policy(): OperationPolicy {
    return this.matched.policy;
  }

  /** Where the query asks about, roughly; null where it does not say. */
  get near(): CoarsePlace | null {
    if (this.#near === undefined) this.#near = coarsePlaceIn(this.query);
    return this.#near;
  }

  /** As it was found in the same query before. */
  set near(known: CoarsePlace | null) {
    this.#near = known;
  }

  /** Aborted when nobody waits for the answer any more; made on first use, since few operations ask. */
  get signal(): AbortSignal {
    if (this.#controller === undefined) {
      this.#controller = new AbortController();
      const { signal } = this.request;
      if (this.#reason !== undefined) this.#controller.abort(this.#reason);
      else if (signal.aborted) this.abort(new Error("the caller hung up"));
      else signal.addEventListener("abort", () => this.abort(new Error("the caller hung up")), { once: true });
    }
    return this.#controller.signal;
  }

  /** Whether nobody waits for the answer any more. */
  get isOver(): boolean {
    return this.#reason !== undefined || this.request.signal.aborted;
  }

  /** Count further points for work whose cost is known only when it is done. They are taken from what the client may ask next. */
  charge(points: number): void {
    this.#charged += points;
  }

  /** Points that were charged, rounded up. */
  get charged(): number {
    return Math.ceil(this.#charged);
  }

  /** Have something released once the answer is made. */
  whenAnswered(release: () => void): void {
    this.#releases.push(release);
  }

  /** Release what was held for the answer. */
  end(): void {
    for (const release of this.#releases.splice(0)) release();
  }

  abort(reason: Error): void {
    this.#reason ??= reason;
    this.#controller?.abort(this.#reason);
  }
}

const LATITUDE = /(?:^|&)latitude=(-?\d{1,3}(?:\.\d{1,20})?)(?:&|$)/;
const LONGITUDE = /(?:^|&)longitude=(-?\d{1,3}(?:\.\d{1,20})?)(?:&|$)/;

function coarsePlaceIn(query: string): CoarsePlace | null {
  if (query === "") return null;
  const latitude = LATITUDE.exec(query)?.[1];
  const longitude = LONGITUDE.exec(query)?.[1];
  if (latitude === undefined || longitude === undefined) return null;
  return [toTenth(latitude), toTenth(longitude)];
}

/** The zero is never negative. */
function toTenth(degrees: string): number {
  return Math.round(Number(degrees) * 10) / 10 + 0;
}
