import type { FieldError } from "@fieldstop/operations";
import { PROBLEM_TYPES, type ProblemKey } from "./catalogue";

export interface ProblemDetails {
  readonly detail: string;
  readonly errors?: readonly FieldError[];
  readonly headers?: Readonly<Record<string, string>>;
}

/** Thrown where a request meets a problem; the service answers with it as problem+json. */
export class ProblemError extends Error {
  override readonly name = "ProblemError";

  constructor(
    readonly key: ProblemKey,
    readonly details: ProblemDetails,
  ) {
    super(details.detail);
  }
}

/** What a problem says of the request that met it. */
export interface ProblemSubject {
  readonly path: string;
  readonly requestId: string;
}

/** RFC 9457 details. `instance` is the path alone, so that it never repeats what a caller put into a query. */
export function problemBody(
  { path, requestId }: ProblemSubject,
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
