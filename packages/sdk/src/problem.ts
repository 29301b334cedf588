import type { FieldError, Problem } from "./generated/index.js";

/** What a response says of a problem in its fields. */
interface Told {
  readonly requestId?: string | undefined;
  readonly retryAfterSeconds?: number | undefined;
}

/** A refused or failed request, as the service's problem+json told it (RFC 9457). */
export class FieldstopProblem extends Error {
  override readonly name = "FieldstopProblem";
  /** A stable URI path with a page that explains it, such as `/problems/invalid-input`. */
  readonly type: string;
  readonly title: string;
  readonly status: number;
  readonly detail: string;
  readonly instance: string;
  /** Each field at fault: where it is, what came, what is allowed. */
  readonly errors: readonly FieldError[];
  readonly requestId: string | undefined;
  /** Seconds after which to try again, where the service said so. */
  readonly retryAfterSeconds: number | undefined;

  /** @param told what the response that brought it says besides; absent where it was met without a network */
  constructor(problem: Problem, told: Told = {}) {
    super(problem.detail);
    this.type = problem.type;
    this.title = problem.title;
    this.status = problem.status;
    this.detail = problem.detail;
    this.instance = problem.instance;
    this.errors = problem.errors ?? [];
    this.requestId = problem.requestId ?? told.requestId;
    this.retryAfterSeconds = told.retryAfterSeconds;
  }
}

/**
 * Whether something caught is the service's own problem, rather than a network error or an abort.
 * Told by its name: a program may hold two copies of this class, one of each entry or module system.
 */
export function isProblem(error: unknown): error is FieldstopProblem {
  return error instanceof Error && error.name === "FieldstopProblem";
}

/** What to throw for a failed request: the service's problem, or one made from a foreign error page. */
export function toProblem(error: unknown, response: Response | undefined): unknown {
  if (response === undefined) return error;
  const title = `HTTP ${response.status}`;
  const problem = looksLikeProblem(error)
    ? error
    : {
        type: "about:blank",
        title,
        status: response.status,
        detail: `${title} without problem details`,
        instance: response.url,
      };
  return new FieldstopProblem(problem, toldBy(response));
}

function toldBy({ headers }: Response): Told {
  const seconds = Number.parseFloat(headers.get("Retry-After") ?? "");
  return {
    requestId: headers.get("X-Request-Id") ?? undefined,
    retryAfterSeconds: Number.isFinite(seconds) ? seconds : undefined,
  };
}

function looksLikeProblem(error: unknown): error is Problem {
  return typeof error === "object" && error !== null && "type" in error && "status" in error && "detail" in error;
}
