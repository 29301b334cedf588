import type { DomainError } from "@fieldstop/core/domain-error";

/** One field at fault, in the body (`/place/latitude`), in a form (`form:photos/2`) or in the query (`query:latitude`). */
export interface FieldError {
  readonly pointer: string;
  readonly detail: string;
  readonly received?: unknown;
  readonly allowed?: string;
}

/** The ways in which an answer can be refused; each is a problem type at `/problems/{key}`. */
export const REFUSALS = {
  "invalid-input": { title: "Some input is missing, unknown or out of range", status: 400 },
  "not-found": { title: "Nothing is at this path", status: 404 },
  impossible: { title: "The request was understood, but it has no answer", status: 422 },
  unavailable: { title: "The service cannot answer just now", status: 503 },
} as const;

export type RefusalKey = keyof typeof REFUSALS;

/** Thrown where a request has no answer for a reason that core does not know of. */
export class Refusal extends Error {
  override readonly name = "Refusal";

  constructor(
    readonly key: RefusalKey,
    readonly detail: string,
    readonly errors?: readonly FieldError[],
  ) {
    super(detail);
  }
}

/** The refusal behind an argument that core refused: its dotted `param` is the field of the request. */
export function refusalFromDomain(error: DomainError, part: InputPart): Refusal {
  const allowed = error.unit === undefined ? error.allowed : `${error.allowed} ${error.unit}`;
  return new Refusal(error.code === "impossible" ? "impossible" : "invalid-input", error.message, [
    {
      pointer: pointerTo(part, fieldOf(error.param.split("."), part)),
      detail: error.message,
      received: echo(error.given),
      allowed,
    },
  ]);
}

/** A query is flat: its fields are known by the last part of the path, `place.timeZone` by `timeZone`. */
function fieldOf(path: readonly string[], part: InputPart): readonly string[] {
  return part === "query" ? path.slice(-1) : path;
}

export type InputPart = "json" | "form" | "query" | "param";

/**
 * The name of a field in an error: an RFC 6901 JSON Pointer for a JSON body, `form:part/inner/field` for a form,
 * `query:name` or `path:name` elsewhere.
 */
export function pointerTo(part: InputPart, path: readonly PropertyKey[]): string {
  if (part === "query") return `query:${path.map(String).join(".")}`;
  if (part === "param") return `path:${path.map(String).join(".")}`;
  if (part === "form") return `form:${path.map(escaped).join("/")}`;
  return path.map((key) => `/${escaped(key)}`).join("");
}

function escaped(key: PropertyKey): string {
  return String(key).replaceAll("~", "~0").replaceAll("/", "~1");
}

const LONGEST_ECHO = 120;

/** What came, cut short enough to send back: scalars as they are, the rest by kind and size. */
export function echo(value: unknown): unknown {
  if (typeof value === "string") return value.length > LONGEST_ECHO ? `${value.slice(0, LONGEST_ECHO)}…` : value;
  if (typeof value === "number" && !Number.isFinite(value)) return String(value);
  if (value === null || typeof value === "number" || typeof value === "boolean") return value;
  if (Array.isArray(value)) return `an array of ${value.length}`;
  if (typeof value === "object") return "an object";
  return undefined;
}

/** The value at a path of keys in what was sent, or undefined. */
export function valueAt(input: unknown, path: readonly PropertyKey[]): unknown {
  let value: unknown = input;
  for (const key of path) {
    if (value === null || typeof value !== "object" || !Object.hasOwn(value, key)) return undefined;
    value = (value as Record<PropertyKey, unknown>)[key];
  }
  return value;
}
