import type { FieldError } from "@fieldstop/answers";
import type { Context } from "hono";
import { PROBLEM_TYPES, type ProblemKey } from "./catalogue";

export interface ProblemDetails {
  readonly detail: string;
  readonly errors?: readonly FieldError[];
  readonly headers?: Readonly<Record<string, string>>;
}

/** Thrown where a route meets a problem; the app turns it into a problem+json answer. */
export class ProblemError extends Error {
  override readonly name = "ProblemError";

  constructor(
    readonly key: ProblemKey,
    readonly details: ProblemDetails,
  ) {
    super(details.detail);
  }
}

/** RFC 9457 details. `instance` is the path alone, so that it never repeats what a caller put into a query. */
export function problemBody(c: Context, key: ProblemKey, details: Pick<ProblemDetails, "detail" | "errors">) {
  const { title, status } = PROBLEM_TYPES[key];
  return {
    type: `/problems/${key}`,
    title,
    status,
    detail: details.detail,
    instance: c.req.path,
    ...(details.errors === undefined ? {} : { errors: [...details.errors] }),
    ...(status === 500 ? { requestId: String(c.get("requestId")) } : {}),
  };
}

/** An RFC 9457 answer. */
export function problemResponse(c: Context, key: ProblemKey, details: ProblemDetails): Response {
  const body = problemBody(c, key, details);
  return c.body(JSON.stringify(body), PROBLEM_TYPES[key].status, {
    "Content-Type": "application/problem+json",
    ...details.headers,
  });
}
