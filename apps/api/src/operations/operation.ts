import { type RouteConfig, z } from "@hono/zod-openapi";
import { SVG_TYPE } from "../middleware/accept";
import { type Answer, text } from "../middleware/answer";
import type { OperationPolicy } from "../middleware/operation-policy";
import type { RequestContext } from "../middleware/request-context";
import { PROBLEM_TYPES } from "../problems/catalogue";
import { Problem } from "../problems/problem.schema";
import type { Services } from "../services";
import type { RequestExamples } from "./shared/example";

type OutputOf<S> = S extends z.ZodType ? z.output<S> : undefined;
type BodyOf<R, Type extends string> = R extends {
  request: { body: { content: { [K in Type]: { schema: infer S } } } };
}
  ? OutputOf<S>
  : undefined;
type PartOf<R, Part extends "query" | "params"> = R extends { request: { [K in Part]: infer S } }
  ? OutputOf<S>
  : undefined;
type AnsweredBy<R> = R extends { responses: { 200: { content: { "application/json": { schema: infer S } } } } }
  ? OutputOf<S>
  : unknown;

/** What came with a request, as the schemas of its route read it. */
export interface OperationInput<R extends RouteConfig = RouteConfig> {
  readonly query: PartOf<R, "query">;
  readonly params: PartOf<R, "params">;
  /** Of JSON. */
  readonly body: BodyOf<R, "application/json">;
  readonly form: BodyOf<R, "multipart/form-data">;
  /** The media type to answer with. */
  readonly type: string;
}

/** What the handler of an operation finds. */
export interface OperationRequest<R extends RouteConfig = RouteConfig> extends OperationInput<R> {
  readonly services: Services;
  readonly context: RequestContext;
}

export type OperationHandler<R extends RouteConfig> = (
  request: OperationRequest<R>,
) => Answer<AnsweredBy<R>> | Promise<Answer<AnsweredBy<R>>>;

/** How an operation differs from most: they are guarded, count one point, and are revalidated. */
export interface OperationOptions<R extends RouteConfig> extends Omit<OperationPolicy, "access" | "points"> {
  readonly points?: number | ((input: OperationInput<R>) => number);
  /** Of its body; default 256 KiB. */
  readonly maxBytes?: number;
}

/** A route's description, its handler and what the policies must know of it, as one value. */
export interface Operation<R extends RouteConfig = RouteConfig> {
  readonly route: R;
  readonly handler: OperationHandler<R>;
  readonly policy: OperationPolicy;
  readonly maxBytes?: number | undefined;
}

/** One of any route. */
export type AnyOperation = Omit<Operation, "handler"> & { readonly handler: (request: never) => unknown };

/** Declare an operation. */
export function operation<R extends RouteConfig>(
  route: R,
  handler: OperationHandler<R>,
  { maxBytes, points = 1, ...options }: OperationOptions<R> = {},
): Operation<R> {
  const policy = { access: "guarded", points: points as NonNullable<OperationPolicy["points"]>, ...options } as const;
  return { route: { ...route, ...described(route, policy) }, handler, policy, maxBytes };
}

/** What the contract says of the policy. */
function described({ description = "" }: RouteConfig, { points, deprecation }: OperationPolicy): Partial<RouteConfig> {
  const byInput = "Counts for points by what is asked, one for each 10 ms that it takes or so.";
  const counts = typeof points === "function" ? byInput : `Counts for ${points} points.`;
  return {
    ...(points !== 1 && { description: `${description} ${counts}` }),
    ...(deprecation && { deprecated: true }),
  };
}

/** The services of a request, with its client and the signal that tells when nobody waits for its answer: for what takes long. */
export function lookups({ services, context }: Pick<OperationRequest, "services" | "context">): Services {
  return { ...services, client: context.client, signal: context.signal };
}

/** Describe a JSON answer of one shape. */
export function jsonAnswer<S extends z.ZodType>(schema: S, description: string) {
  return { description, content: { "application/json": { schema } } } as const;
}

/** Describe text of a type of its own as the answer of an operation. */
export function textAnswer<Type extends string>(type: Type, description: string) {
  return { description, content: { [type]: { schema: z.string() } } as Record<Type, { schema: z.ZodString }> } as const;
}

/** Describe a picture as the answer of an operation. Clients get it as a blob, ready for an object URL. */
export function pictureAnswer(description: string) {
  const schema = z.string().openapi({ format: "binary", description: "SVG, light or dark as the viewer prefers" });
  return { description, content: { [SVG_TYPE]: { schema } } } as const;
}

/** Answer with a picture that may load nothing and run nothing, wherever it is opened. */
export function picture(markup: string, ...rest: DropTwo<Parameters<typeof text>>): Answer<never> {
  const [lifespan, headers] = rest;
  const policy = "default-src 'none'; style-src 'unsafe-inline'";
  return text(markup, SVG_TYPE, lifespan, { "content-security-policy": policy, ...headers });
}

type DropTwo<T extends unknown[]> = T extends [unknown, unknown, ...infer Rest] ? Rest : never;

interface DescribedAnswer {
  readonly description: string;
  readonly content: object;
}

/** Describe other forms of the same answer, for which `Accept` may ask. Its type stays that of the JSON, which is what the handler is held to. */
export function alsoAs<A extends DescribedAnswer>(answer: A, ...others: readonly DescribedAnswer[]): A {
  const content = Object.assign({}, answer.content, ...others.map((other) => other.content));
  return { ...answer, content };
}

/** Describe a JSON body, always required: without that a request with no Content-Type would reach the handler empty. */
export function jsonBody<S extends z.ZodType>(schema: S, examples: RequestExamples<z.input<S>>) {
  return { required: true, content: { "application/json": { schema, examples } } } as const;
}

/** Describe a form with files, always required for the same reason. */
export function formBody<S extends z.ZodType>(schema: S) {
  return { required: true, content: { "multipart/form-data": { schema } } } as const;
}

const problem = (key: keyof typeof PROBLEM_TYPES) => ({
  description: PROBLEM_TYPES[key].title,
  content: { "application/problem+json": { schema: Problem } },
});

/** The problems that any operation on a query can meet. */
export const queryProblems = {
  400: problem("invalid-input"),
  401: problem("unauthorized"),
  406: problem("not-acceptable"),
  422: problem("impossible"),
  429: problem("too-many-requests"),
  500: problem("internal"),
  503: problem("unavailable"),
} as const;

/** The problems that any operation on a body can meet. */
export const bodyProblems = {
  ...queryProblems,
  408: problem("request-timeout"),
  413: problem("body-too-large"),
  415: problem("unsupported-media-type"),
} as const;

/** The problem of an operation on a named thing that may not exist. */
export const notFoundProblem = { 404: problem("not-found") } as const;
