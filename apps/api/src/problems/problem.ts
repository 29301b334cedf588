import type { FieldError } from "@fieldstop/answers";
import type { Context } from "hono";
import type { AppEnv } from "../env";
import type { Answer, Exchange } from "../middleware/exchange";
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
export function problemBody(
  { path, requestId }: Pick<Exchange, "path" | "requestId">,
  key: ProblemKey,
  details: Pick<ProblemDetails, "detail" | "errors">,
) {
  const { title, status } = PROBLEM_TYPES[key];
  return {
    type: `/problems/${key}`,
    title,
    status,
    detail: details.detail,
    instance: path,
    ...(details.errors === undefined ? {} : { errors: [...details.errors] }),
    ...(status === 500 ? { requestId } : {}),
  };
}

/** An RFC 9457 answer. */
export function problemAnswer(exchange: Exchange, key: ProblemKey, details: ProblemDetails): Answer {
  const fields: Record<string, string> = { "content-type": "application/problem+json" };
  for (const [name, value] of Object.entries(details.headers ?? {})) fields[name.toLowerCase()] = value;
  return { body: JSON.stringify(problemBody(exchange, key, details)), status: PROBLEM_TYPES[key].status, fields };
}

/** The same from within the app. */
export function problemResponse(c: Context<AppEnv>, key: ProblemKey, details: ProblemDetails): Response {
  const { exchange } = c.env;
  return exchange.handOver(problemAnswer(exchange, key, details));
}
