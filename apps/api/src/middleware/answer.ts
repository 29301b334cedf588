import { type AnsweredDay, dayOf, lacksUnreadGround } from "./cache-control";

/** What is sent back, before it becomes a `Response`. Field names are in lower case. */
export interface Answer<Value = unknown> {
  readonly body: string | Uint8Array<ArrayBuffer> | ReadableStream<Uint8Array> | null;
  readonly status: number;
  readonly headers: Readonly<Record<string, string>>;
  /** Whether it holds for a short while only, whatever its operation says: it lacks what may come back, or is of today. */
  readonly short?: boolean;
  /** The local day that it is about. */
  readonly day?: AnsweredDay | undefined;
  /** Whether its headers are complete but for those of one request, as those of a cached response are. */
  readonly complete?: boolean;
  /** The type of the value that a JSON body holds; never set. */
  readonly value?: Value;
}

/** What the lifetime of an answer depends on beside its operation. */
export interface Lifespan {
  readonly short?: boolean;
  readonly day?: AnsweredDay | undefined;
}

const JSON_HEADERS = { "content-type": "application/json" };

/** Answer with a value as JSON. */
export function json<Value>(value: Value, headers?: Readonly<Record<string, string>>): Answer<Value> {
  return jsonText<Value>(JSON.stringify(value), lifespanOf(value), headers);
}

/** Answer with a value that was written as JSON before. */
export function jsonText<Value>(
  body: string,
  lifespan: Lifespan = {},
  headers?: Readonly<Record<string, string>>,
): Answer<Value> {
  return { body, status: 200, headers: headers ? { ...JSON_HEADERS, ...headers } : JSON_HEADERS, ...lifespan };
}

/** Answer with text of a type. */
export function text(
  body: string,
  type: string,
  lifespan: Lifespan = {},
  headers?: Readonly<Record<string, string>>,
): Answer<never> {
  return { body, status: 200, headers: { "content-type": type, ...headers }, ...lifespan };
}

/** Read off a value what the lifetime of its answer depends on. */
export function lifespanOf(value: unknown): Lifespan {
  return { short: lacksUnreadGround(value), day: dayOf(value) };
}
