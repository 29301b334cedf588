import type { RouteConfig, z } from "@hono/zod-openapi";
import type { OperationPolicy } from "../middleware/operation-policy";
import { PROBLEM_TYPES } from "../problems/catalogue";
import { Problem } from "../problems/problem.schema";
import type { OperationHandler } from "./operation-context";
import type { RequestExamples } from "./shared/example";

interface DescribedAnswer {
  readonly description: string;
  readonly content: object;
}

export interface Operation<R extends RouteConfig = RouteConfig> {
  readonly route: R;
  readonly handler: OperationHandler<R>;
  readonly policy: OperationPolicy;
}

/** One of any route. */
export type AnyOperation = Pick<Operation, "route" | "policy"> & { readonly handler: (c: never) => unknown };

/** A route's description, its handler and what the policies must know of it, as one value. */
export function operation<R extends RouteConfig>(
  route: R,
  handler: OperationHandler<R>,
  policy: OperationPolicy = {},
): Operation<R> {
  return { route: { ...route, ...described(route, policy) }, handler, policy };
}

/** What the contract tells of the policy. */
function described({ description }: RouteConfig, { points = 1, deprecation }: OperationPolicy): Partial<RouteConfig> {
  return {
    ...(points > 1 && { description: `${description ?? ""} Counts for ${points} requests against the rate limit.` }),
    ...(deprecation && { deprecated: true }),
  };
}

/** A JSON answer of one shape. */
export function jsonAnswer<S extends z.ZodType>(schema: S, description: string) {
  return { description, content: { "application/json": { schema } } } as const;
}

/** The same answer in other forms besides, for which `Accept` may ask. Its type stays that of the JSON, which is what the handler is held to. */
export function alsoAs<A extends DescribedAnswer>(answer: A, ...others: readonly DescribedAnswer[]): A {
  const content = Object.assign({}, answer.content, ...others.map((other) => other.content));
  return { ...answer, content };
}

/** A JSON body, always required: without that a request with no Content-Type would reach the handler empty. */
export function jsonBody<S extends z.ZodType>(schema: S, examples: RequestExamples<z.input<S>>) {
  return { required: true, content: { "application/json": { schema, examples } } } as const;
}

/** A form with files, always required for the same reason. */
export function formBody<S extends z.ZodType>(schema: S) {
  return { required: true, content: { "multipart/form-data": { schema } } } as const;
}

const problem = (description: string) => ({
  description,
  content: { "application/problem+json": { schema: Problem } },
});

/** The problems that any operation on a query can meet. */
export const queryProblems = {
  400: problem(PROBLEM_TYPES["invalid-input"].title),
  401: problem(PROBLEM_TYPES.unauthorized.title),
  406: problem(PROBLEM_TYPES["not-acceptable"].title),
  422: problem(PROBLEM_TYPES.impossible.title),
  429: problem(PROBLEM_TYPES["too-many-requests"].title),
  500: problem(PROBLEM_TYPES.internal.title),
  503: problem(PROBLEM_TYPES.unavailable.title),
} as const;

/** The problems that any operation on a body can meet. */
export const bodyProblems = {
  ...queryProblems,
  413: problem(PROBLEM_TYPES["body-too-large"].title),
  415: problem(PROBLEM_TYPES["unsupported-media-type"].title),
} as const;

/** The problem of an operation on a named thing that may not exist. */
export const notFoundProblem = { 404: problem(PROBLEM_TYPES["not-found"].title) } as const;
