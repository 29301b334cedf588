import fc from "fast-check";
import { valuesOf } from "./arbitraries";
import { type Operation, operations, type Parameter } from "./contract";
import { HOSTILE_KEYS, HOSTILE_VALUES, mutated } from "./mutations";

export interface DrawnRequest {
  readonly operation: Operation;
  readonly method: string;
  readonly path: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly body?: string | Buffer;
}

type Query = readonly (readonly [string, string])[];

/** As text that a URL can carry: it has no place for half a character. */
const asText = (value: unknown): string =>
  (typeof value === "string" ? value : JSON.stringify(value)).replace(/\p{Surrogate}/gu, "\ufffd");

/** The parameters of one place in the request, each with its text. */
function parametersOf(parameters: readonly Parameter[]): fc.Arbitrary<Query> {
  const each = parameters.map(({ name, required, schema }) =>
    fc
      .tuple(required ? fc.constant(true) : fc.boolean(), valuesOf(schema, name))
      .map(([there, value]): Query => (there ? [[name, asText(value)]] : [])),
  );
  return fc.tuple(...each).map((entries) => entries.flat());
}

/** A query with one thing wrong with it: a value, a stranger, a repetition, a gap. */
function mutatedQuery(queries: fc.Arbitrary<Query>): fc.Arbitrary<Query> {
  const change = fc.record({
    at: fc.nat(100),
    how: fc.constantFrom("replace", "replace", "add", "repeat", "remove"),
    value: fc.constantFrom(...HOSTILE_VALUES).map(asText),
    key: fc.constantFrom(...HOSTILE_KEYS, "latitude[]", "date.gte"),
  });
  return fc.tuple(queries, change).map(([query, { at, how, value, key }]): Query => {
    const index = at % Math.max(1, query.length);
    const name = query[index]?.[0] ?? key;
    if (how === "add") return [...query, [key, value]];
    if (how === "repeat") return [...query, [name, value]];
    if (how === "remove") return query.filter((_, i) => i !== index);
    return query.map((entry, i) => (i === index ? [name, value] : entry));
  });
}

const headers = fc.oneof(
  { weight: 8, arbitrary: fc.constant({}) },
  fc.constantFrom<Record<string, string>>(
    { accept: "image/svg+xml" },
    { accept: "text/html, application/json;q=0.1" },
    { accept: ";;;,q=NaN" },
    { accept: `${"a/b,".repeat(500)}*/*` },
    { "if-none-match": "*" },
    { "if-none-match": `${'"a",'.repeat(1000)}W/"b"` },
    { "accept-encoding": "gzip, br;q=1.0, *;q=0" },
    { origin: "https://club.example" },
    { "x-request-id": "a".repeat(4000) },
    { "x-request-id": "<script>" },
    { traceparent: "00-zz-zz-01" },
    { range: "bytes=0-1" },
    { authorization: "Bearer nonsense" },
    { "x-forwarded-for": "1.2.3.4, ::1, <x>" },
    { "x-http-method-override": "DELETE" },
  ),
);

function pathOf(operation: Operation, parts: Query, query: Query): string {
  const path = parts.reduce(
    (text, [name, value]) => text.replace(`{${name}}`, encodeURIComponent(value)),
    operation.path,
  );
  const search = query.map(([name, value]) => `${encodeURIComponent(name)}=${encodeURIComponent(value)}`).join("&");
  return search === "" ? path : `${path}?${search}`;
}

const BOUNDARY = "fieldstop-load";
const PIXEL = Buffer.from(
  "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==",
  "base64",
);

/** A form of a few files, whole and broken, and the text parts of the schema. */
const forms: fc.Arbitrary<Buffer> = fc
  .record({
    files: fc.array(
      fc.oneof(fc.constant(PIXEL), fc.constant(PIXEL.subarray(0, 40)), fc.uint8Array({ maxLength: 300 })),
      {
        maxLength: 4,
      },
    ),
    fields: fc.array(
      fc.tuple(fc.constantFrom("biases", "options", "__proto__", "photos"), fc.constantFrom(...HOSTILE_VALUES)),
      {
        maxLength: 2,
      },
    ),
    whole: fc.boolean(),
  })
  .map(({ files, fields, whole }) => {
    const head = (disposition: string) =>
      Buffer.from(`--${BOUNDARY}\r\nContent-Disposition: form-data; ${disposition}\r\n\r\n`);
    const end = Buffer.from("\r\n");
    return Buffer.concat([
      ...files.flatMap((file, i) => [head(`name="photos"; filename="${i}.png"`), file, end]),
      ...fields.flatMap(([name, value]) => [head(`name="${name}"`), Buffer.from(asText(value)), end]),
      Buffer.from(whole ? `--${BOUNDARY}--\r\n` : `--${BOUNDARY}`),
    ]);
  });

/** Bodies of one operation: from its schema, from its examples, and each of them spoilt. */
function bodiesOf({ body }: Operation): fc.Arbitrary<{ body?: string | Buffer; type?: string }> {
  if (body === undefined) return fc.constant({});
  if (body.type === "multipart/form-data") {
    return forms.map((form) => ({ body: form, type: `multipart/form-data; boundary=${BOUNDARY}` }));
  }
  const fromSchema = valuesOf(body.schema);
  const documents =
    body.examples.length === 0
      ? fromSchema
      : fc.oneof({ weight: 2, arbitrary: fromSchema }, { weight: 3, arbitrary: fc.constantFrom(...body.examples) });
  const values = fc.oneof({ weight: 3, arbitrary: documents }, { weight: 4, arbitrary: mutated(documents) });
  const types = fc.oneof(
    { weight: 20, arbitrary: fc.constant(body.type) },
    fc.constantFrom(
      "application/json; charset=utf-8",
      "application/json;charset=utf-16",
      "text/plain",
      "",
      "application/xml",
    ),
  );
  return fc.tuple(values, types, fc.nat(60)).map(([value, type, cut]) => {
    const text = JSON.stringify(value) ?? "";
    // once in a while the document ends too early
    return { body: cut === 0 ? text.slice(0, Math.floor(text.length / 2)) : text, type };
  });
}

/** Requests to one operation, good and bad. */
export function requestsTo(operation: Operation): fc.Arbitrary<DrawnRequest> {
  const inQuery = parametersOf(operation.parameters.filter((parameter) => parameter.in === "query"));
  const query = fc.oneof({ weight: 2, arbitrary: inQuery }, { weight: 2, arbitrary: mutatedQuery(inQuery) });
  const parts = parametersOf(operation.parameters.filter((parameter) => parameter.in === "path"));
  return fc.tuple(query, parts, bodiesOf(operation), headers).map(([q, p, { body, type }, extra]) => ({
    operation,
    method: operation.method,
    path: pathOf(operation, p, operation.method === "GET" ? q : []),
    headers: { ...extra, ...(type !== undefined && type !== "" && { "content-type": type }) },
    ...(body !== undefined && { body }),
  }));
}

/** Requests to one operation that its description allows. A form of files is not drawn from its schema. */
function allowedRequestsTo(operation: Operation): fc.Arbitrary<DrawnRequest> {
  const { body, method } = operation;
  const query = parametersOf(operation.parameters.filter((parameter) => parameter.in === "query"));
  const parts = parametersOf(operation.parameters.filter((parameter) => parameter.in === "path"));
  const bodies = body === undefined ? fc.constant(undefined) : valuesOf(body.schema);
  return fc.tuple(query, parts, bodies).map(([q, p, value]) => ({
    operation,
    method,
    path: pathOf(operation, p, q),
    headers: { ...(body !== undefined && { "content-type": body.type }) },
    ...(body !== undefined && { body: JSON.stringify(value) }),
  }));
}

/** Requests to every operation in turn, the same for the same seed. */
export const draw = (count: number, seed: number) => drawFrom(operations.map(requestsTo), count, seed);

/** The same of requests that the contract allows. */
export const drawAllowed = (count: number, seed: number) =>
  drawFrom(operations.filter(({ body }) => body?.type !== "multipart/form-data").map(allowedRequestsTo), count, seed);

function* drawFrom(
  arbitraries: readonly fc.Arbitrary<DrawnRequest>[],
  count: number,
  seed: number,
): Generator<DrawnRequest> {
  const BATCH = 20;
  for (let drawn = 0, round = 0; drawn < count; round++) {
    for (const [i, arbitrary] of arbitraries.entries()) {
      const numRuns = Math.min(BATCH, count - drawn);
      if (numRuns === 0) return;
      yield* fc.sample(arbitrary, { numRuns, seed: seed + round * arbitraries.length + i });
      drawn += numRuns;
    }
  }
}
