import { type Asked, pathOf } from "./asked";
import type { AnsweredDay } from "./lifetime";
import { type Near, nearOf } from "./near";
import type { OperationPolicy } from "./operation-policy";
import { requestIdOf } from "./request-id";
import { traceIdOf } from "./trace-parent";

/** An answer before it becomes a Response; field names in lower case. */
export interface Answer {
  readonly body: string | Uint8Array<ArrayBuffer> | ReadableStream | null;
  readonly status: number;
  readonly fields: Readonly<Record<string, string>>;
  /** Whether it holds for a while only, whatever its operation says: it lacks what may come back, or is of today. */
  readonly passing?: boolean;
  /** The local day that it is about. */
  readonly day?: AnsweredDay | undefined;
  /** Whether its fields hold all but those of one exchange alone, as those of a kept answer do. */
  readonly lasting?: boolean;
}

/** The operation that a request is for. */
export interface Matched {
  /** The route's path as it was declared; undefined where there is none. */
  readonly template: string | undefined;
  readonly policy: OperationPolicy;
}

const UNMATCHED: Matched = { template: undefined, policy: {} };

/** One request and what the policies know of it. Handlers find it as `c.env.exchange`. */
export class Exchange {
  readonly requestId: string;
  /** Of the trace that the caller is in. */
  traceId: string | undefined;
  readonly path: string;
  /** Without the question mark. */
  readonly query: string;
  /** Fields that belong to this exchange alone, whatever is answered. */
  readonly fields: Record<string, string>;
  /** Fields that every answer to the like has. */
  standing: Readonly<Record<string, string>> = {};
  /** The operation that it is for. */
  matched: Matched = UNMATCHED;
  #answer: Answer | undefined;
  #answerFields: Record<string, string> | undefined;
  #standIn: Response | undefined;
  #abort: AbortController | undefined;
  #aborted = false;
  #near: Near | null | undefined;

  /** @param target path and query, as they came */
  constructor(
    readonly request: Asked,
    readonly target: string,
  ) {
    this.requestId = requestIdOf(request);
    this.traceId = traceIdOf(request);
    this.path = pathOf(target);
    this.query = target.slice(this.path.length + 1);
    this.fields = { "x-request-id": this.requestId };
  }

  /** Where it asks about, about; null where it does not say. */
  get near(): Near | null {
    if (this.#near === undefined) this.#near = nearOf(this.query);
    return this.#near;
  }

  /** As it was found out of the same query before. */
  set near(known: Near | null) {
    this.#near = known;
  }

  get template(): string | undefined {
    return this.matched.template;
  }

  get policy(): OperationPolicy {
    return this.matched.policy;
  }

  /** Aborted when nobody waits for the answer any more; made for those who ask alone. */
  get signal(): AbortSignal {
    if (this.#abort === undefined) {
      this.#abort = new AbortController();
      if (this.#aborted) this.#abort.abort();
      // of a web Request: the caller has hung up
      const { signal } = this.request;
      if (signal?.aborted) this.abort();
      else signal?.addEventListener("abort", () => this.abort(), { once: true });
    }
    return this.#abort.signal;
  }

  /** Whether nobody waits for the answer any more. */
  get isOver(): boolean {
    return this.#aborted;
  }

  abort(): void {
    this.#aborted = true;
    this.#abort?.abort();
  }

  /** A field of the answer that a handler sets beforehand. */
  setField(name: string, value: string | undefined, append = false): void {
    const key = name.toLowerCase();
    this.#answerFields ??= {};
    const before = this.#answerFields[key];
    if (value === undefined) delete this.#answerFields[key];
    else this.#answerFields[key] = append && before !== undefined ? `${before}, ${value}` : value;
  }

  /** Takes an answer as it is. */
  take(answer: Answer): void {
    this.#answer = answer;
  }

  /**
   * The same for the router, which gets an empty response in its place: the real one is made once, with every field in it, since one that was made is
   * dear to read or to change.
   */
  handOver(answer: Answer): Response {
    this.take(answer);
    this.#standIn = new Response(null, { status: answer.status });
    return this.#standIn;
  }

  /** The answer that was taken, with the fields that were set beforehand. */
  get taken(): Answer {
    if (this.#answer === undefined) throw new Error("nothing was answered");
    return this.#withFields(this.#answer);
  }

  /** The answer behind a response that came back from the router: what was handed over, or what is in it. */
  answerBehind(response: Response): Answer {
    if (response === this.#standIn) return this.taken;
    return this.#withFields({
      status: response.status,
      body: response.body,
      fields: Object.fromEntries(response.headers),
    });
  }

  #withFields(answer: Answer): Answer {
    if (this.#answerFields === undefined) return answer;
    return { ...answer, fields: Object.assign({}, answer.fields, this.#answerFields) };
  }
}
