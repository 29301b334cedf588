import { echo, type FieldError, type InputPart, pointerTo, valueAt } from "@fieldstop/operations";
import type { z } from "@hono/zod-openapi";
import { ProblemError } from "./problem";
import "./schema-sentences";

type Issue = z.core.$ZodIssue;

const MOST_ERRORS = 20;

/** What an absent field is told as: of another type, none of the choices, none of the forms. */
const WANTS_A_VALUE: ReadonlySet<string> = new Set(["invalid_type", "invalid_value", "invalid_union"]);

/** One entry for each field at fault: where it is, what came, what is allowed. */
export function fieldErrorsFromZod(part: InputPart, input: unknown, error: z.ZodError): FieldError[] {
  return error.issues.flatMap((issue) => fromIssue(part, input, issue, [])).slice(0, MOST_ERRORS);
}

function fromIssue(part: InputPart, input: unknown, issue: Issue, prefix: readonly PropertyKey[]): FieldError[] {
  const path = [...prefix, ...issue.path];
  if (issue.code === "unrecognized_keys") {
    return issue.keys.map((key) => ({
      pointer: pointerTo(part, [...path, key]),
      detail: `${JSON.stringify(key)} is not a field of this operation`,
      received: echo(valueAt(input, [...path, key])),
      allowed: "only the documented fields",
    }));
  }
  if (issue.code === "invalid_union" && issue.errors.length > 0) {
    return closestBranch(issue.errors).flatMap((inner) => fromIssue(part, input, inner, path));
  }
  const received = receivedAt(part, input, path);
  if (part === "query" && issue.code === "invalid_type" && issue.expected === "string") {
    return [fromParameter(pointerTo(part, path), received)];
  }
  const allowed = allowedBy(issue);
  return [
    {
      pointer: pointerTo(part, path),
      detail: received === undefined && WANTS_A_VALUE.has(issue.code) ? "this field is required" : issue.message,
      ...(received === undefined ? {} : { received: echo(received) }),
      ...(allowed === undefined ? {} : { allowed }),
    },
  ];
}

/** What came there; a form that has a part of a name once may mean a list of one. */
function receivedAt(part: InputPart, input: unknown, path: readonly PropertyKey[]): unknown {
  const received = valueAt(input, path);
  if (received !== undefined || part !== "form" || path.at(-1) !== 0) return received;
  const lone = valueAt(input, path.slice(0, -1));
  return Array.isArray(lone) ? undefined : lone;
}

/** A parameter of the query is text whatever it means, unless it is absent or there more than once. */
function fromParameter(pointer: string, received: unknown): FieldError {
  return received === undefined
    ? { pointer, detail: "this field is required", allowed: "one value" }
    : { pointer, detail: "given more than once", received: echo(received), allowed: "one value" };
}

/** Of the forms a value may have, the one it came nearest to: fewest complaints, and those deepest inside. */
function closestBranch(branches: readonly (readonly Issue[])[]): readonly Issue[] {
  const depth = (issues: readonly Issue[]): number => Math.max(0, ...issues.map((issue) => issue.path.length));
  return [...branches].sort((a, b) => depth(b) - depth(a) || a.length - b.length)[0] ?? [];
}

function allowedBy(issue: Issue): string | undefined {
  switch (issue.code) {
    case "too_small":
      return `${sizeOf(issue.origin)}${issue.inclusive === false ? "more than" : "at least"} ${issue.minimum}`;
    case "too_big":
      return `${sizeOf(issue.origin)}${issue.inclusive === false ? "less than" : "at most"} ${issue.maximum}`;
    case "invalid_value":
      return issue.values.map((value) => JSON.stringify(value)).join(", ");
    case "invalid_type":
      return `a ${issue.expected === "object" || issue.expected === "array" ? `JSON ${issue.expected}` : issue.expected}`;
    case "custom":
      return typeof issue.params?.["allowed"] === "string" ? issue.params["allowed"] : undefined;
    default:
      return undefined;
  }
}

function sizeOf(origin: string): string {
  if (origin === "array") return "number of entries ";
  if (origin === "string") return "number of characters ";
  return "";
}

/** The problem of input that its schema refuses. */
export function invalidInput(part: InputPart, input: unknown, error: z.ZodError): ProblemError {
  const errors = fieldErrorsFromZod(part, input, error);
  const detail = errors.map((one) => `${one.pointer || "the body"}: ${one.detail}`).join("; ");
  return new ProblemError("invalid-input", { detail, errors });
}
