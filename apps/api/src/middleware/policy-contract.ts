type OpenApiDocument = ReturnType<import("@hono/zod-openapi").OpenAPIHono["getOpenAPI31Document"]>;
type Operation = NonNullable<NonNullable<OpenApiDocument["paths"]>[string]["get"]>;
type Responses = Record<string, { description: string; headers?: object }>;

const text = (description: string, example: string) => ({ description, schema: { type: "string" as const }, example });

/** The fields that policies add, described once. */
const HEADERS = {
  "X-Request-Id": text(
    "The id of the request: the caller's own, where it sent one, else a new one",
    "0b9d1e4e-6f2c-4a4b-9a5d-0a3e6a3f7c11",
  ),
  "RateLimit-Policy": text(
    "What a client may ask in a window of seconds, where there is a limit",
    '"client";q=3000;w=60',
  ),
  RateLimit: text("What is left of it, and in how many seconds it begins anew", '"client";r=2999;t=60'),
  ETag: text(
    "A strong tag of these bytes, for If-None-Match; not of what is true for one moment alone",
    '"s-Bje1fxLz_61Rhw1BCTz"',
  ),
  "Cache-Control": text("How long the answer holds", "public, max-age=86400, immutable"),
  "Retry-After": { description: "Seconds after which to ask again", schema: { type: "integer" as const }, example: 1 },
  "WWW-Authenticate": text("How to send a key", 'Bearer realm="fieldstop"'),
};

type HeaderName = keyof typeof HEADERS;

const ALWAYS: readonly HeaderName[] = ["X-Request-Id", "RateLimit-Policy", "RateLimit"];
const OF_STATUS: Readonly<Record<string, readonly HeaderName[]>> = {
  304: ["ETag", "Cache-Control"],
  401: ["WWW-Authenticate"],
  429: ["Retry-After"],
  503: ["Retry-After"],
};

const references = (names: readonly HeaderName[]) =>
  Object.fromEntries(names.map((name) => [name, { $ref: `#/components/headers/${name}` }]));

/** The contract with what the policies add to every operation: fields, answers to conditions, and the key that a service may ask for. */
export function withPolicyContract(document: OpenApiDocument): OpenApiDocument {
  for (const { get, post } of Object.values(document.paths ?? {})) {
    if (get !== undefined) describe(get, ["ETag", "Cache-Control"]);
    if (post !== undefined) describe(post, []);
    const responses = get?.responses as Responses | undefined;
    if (responses !== undefined) {
      const headers = references([...ALWAYS, ...(OF_STATUS[304] ?? [])]);
      responses["304"] = { description: "If-None-Match names the answer: the caller has it already", headers };
    }
  }
  const components = document.components ?? {};
  return {
    ...document,
    // without a key, where the service is open, or with one
    security: [{}, { apiKey: [] }],
    components: {
      ...components,
      headers: HEADERS,
      securitySchemes: {
        apiKey: {
          type: "http",
          scheme: "bearer",
          description: "A key from the service's operator, where it asks for one",
        },
      },
    },
  };
}

function describe(operation: Operation, ofSuccess: readonly HeaderName[]): void {
  for (const [status, response] of Object.entries(operation.responses as Responses)) {
    const own = status === "200" ? ofSuccess : (OF_STATUS[status] ?? []);
    response.headers = { ...response.headers, ...references([...ALWAYS, ...own]) };
  }
}
