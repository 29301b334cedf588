import { REFUSALS } from "@fieldstop/operations";

export interface ProblemType {
  readonly title: string;
  readonly status: 400 | 401 | 404 | 405 | 406 | 408 | 413 | 415 | 422 | 429 | 500 | 503;
  /** What it means and what to do, for the page behind the problem's URI. */
  readonly explanation: string;
}

/** Every kind of problem that the service answers with; the key is the last part of its URI, `/problems/{key}`. */
export const PROBLEM_TYPES = {
  "malformed-request": {
    title: "The request could not be read",
    status: 400,
    explanation:
      "The body is not JSON, or it is not encoded as UTF-8, or a form is cut short. Send one JSON object with Content-Type: application/json, or, where photographs are taken, one form as multipart/form-data.",
  },
  "invalid-input": {
    ...REFUSALS["invalid-input"],
    explanation:
      "The member errors lists each field: a JSON Pointer into the body, query:name for a query parameter, or form:photos/2 for the third photograph of a form, what was received and what is allowed. Fields that the operation does not know are refused by name, so that a typing error is never silently ignored.",
  },
  unauthorized: {
    title: "The service asks for a key",
    status: 401,
    explanation:
      "This service answers callers it knows. Send the key that its operator gave you with each request, as Authorization: Bearer <key>.",
  },
  "too-many-requests": {
    title: "Too many requests",
    status: 429,
    explanation:
      "Each client may spend so many points in a minute, as RateLimit-Policy tells; RateLimit tells what is left, and Retry-After when to come back. Most requests cost one point; operations that take longer cost more, as their descriptions say.",
  },
  "not-found": {
    ...REFUSALS["not-found"],
    explanation: "The path or the thing it names does not exist. The paths are listed at /docs and in /openapi.json.",
  },
  "method-not-allowed": {
    title: "This path does not take this method",
    status: 405,
    explanation: "The header Allow lists the methods that the path takes.",
  },
  "not-acceptable": {
    title: "No representation fits the Accept header",
    status: 406,
    explanation:
      "Ask for what the problem's detail names, application/json for most paths and image/svg+xml for pictures, or leave Accept out.",
  },
  "request-timeout": {
    title: "The request took too long to arrive",
    status: 408,
    explanation:
      "A body that is sent slowly is held in memory for as long as it takes, so it must come at 32 kB/s at least and be complete within two minutes. Send it over a faster connection, or fewer photographs at once.",
  },
  "body-too-large": {
    title: "The body is too large",
    status: 413,
    explanation:
      "A JSON body may hold up to 256 KiB, one with places for forecasts 1 MiB; a form up to 15 photographs of 25 MiB each.",
  },
  "unsupported-media-type": {
    title: "The body is of a type that is not understood",
    status: 415,
    explanation: "Send the body as application/json; photographs as multipart/form-data.",
  },
  impossible: {
    ...REFUSALS.impossible,
    explanation:
      "Each value is well formed, but together they ask for something that cannot be: a bracket that cannot cover the scene, a date outside 1900 to 2100. The member errors says which field and what is allowed.",
  },
  internal: {
    title: "The service is at fault",
    status: 500,
    explanation: "Something went wrong on our side. Quote the request id if you report it.",
  },
  unavailable: {
    ...REFUSALS.unavailable,
    explanation: "A dependency is away or the queue is full. Try again after the time in Retry-After.",
  },
} as const satisfies Record<string, ProblemType>;

export type ProblemKey = keyof typeof PROBLEM_TYPES;
