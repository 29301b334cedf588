import type { InputPart } from "@fieldstop/operations";
import type { z } from "@hono/zod-openapi";
import { negotiate } from "../middleware/accept";
import type { Answer } from "../middleware/answer";
import { type BodyLimits, MAX_JSON_BYTES, readJson, validateBody } from "../middleware/body";
import type { Guarded } from "../middleware/pipeline";
import { parseQuery } from "../middleware/query";
import type { RequestContext } from "../middleware/request-context";
import { holdForm } from "../photos/photo-slots";
import { MAX_FORM_BYTES } from "../photos/review-photos";
import { invalidInput } from "../problems/from-zod";
import { ProblemError } from "../problems/problem";
import type { Services } from "../services";
import type { AnyOperation, OperationInput, OperationRequest } from "./operation";
import { formValues } from "./shared/form";

interface Input extends Omit<Record<keyof OperationInput, unknown>, "type"> {
  readonly type: string;
}

/** An operation as the policies take it: how its input is read, and what answers. */
export function guardedOperation(
  { route, handler, policy, maxBytes }: AnyOperation,
  services: Services,
): Guarded<Input> {
  const { query, params, body } = route.request ?? {};
  const content = (body?.content ?? {}) as Readonly<Record<string, { schema?: unknown } | undefined>>;
  const jsonSchema = content["application/json"]?.schema as z.ZodType | undefined;
  const formSchema = content["multipart/form-data"]?.schema as z.ZodType | undefined;
  const limits: BodyLimits | undefined =
    (jsonSchema && { type: "application/json", maxBytes: maxBytes ?? MAX_JSON_BYTES }) ??
    (formSchema && { type: "multipart/form-data", maxBytes: MAX_FORM_BYTES });

  const read = async (context: RequestContext): Promise<Input> => {
    const { request } = context;
    const type = negotiate(context);
    const found = {
      type,
      params: params && validated("param", params as z.ZodType, context.params),
      query: query && validated("query", query as z.ZodType, parseQuery(context.query)),
      body: undefined as unknown,
      form: undefined as unknown,
    };
    if (limits === undefined) return found;
    validateBody(request, limits);
    if (jsonSchema !== undefined) {
      found.body = validated("json", jsonSchema, await readJson(request, limits.maxBytes));
    } else if (formSchema !== undefined) {
      found.form = validated("form", formSchema, formValues(await heldForm(context, services)));
    }
    return found;
  };
  const answer = (context: RequestContext, input: Input) =>
    handler({ ...input, services, context } as OperationRequest as never) as Answer;
  return { template: templateOf(route.path), policy, types: typesOf(route), read, answer };
}

/** Read a form, which is held until the request is answered. */
async function heldForm(context: RequestContext, { photos }: Services) {
  // before anything is sent in vain
  if (photos === undefined) {
    throw new ProblemError("unavailable", { detail: "This service runs without a decoder for photographs." });
  }
  const { body, headers } = context.request;
  const { form, release } = await holdForm(body, headers.get("content-type") ?? "", context.signal);
  context.whenAnswered(release);
  return form;
}

/** A declared path as the router writes it: `/v1/reference/:table`. */
export function templateOf(path: string): string {
  return path.replace(/\{(\w+)\}/g, ":$1");
}

/** The media types that an operation answers with, its own choice first. */
function typesOf({ responses }: AnyOperation["route"]): readonly string[] {
  const success = responses[200];
  return Object.keys((success !== undefined && "content" in success && success.content) || {});
}

function validated(part: InputPart, schema: z.ZodType, input: unknown): unknown {
  const result = schema.safeParse(input);
  if (result.success) return result.data;
  throw invalidInput(part, part === "query" ? firstValues(input) : input, result.error);
}

/** Of a parameter that came more than once an error shows the first value. */
function firstValues(query: unknown): unknown {
  const entries = Object.entries(query as object).map(([name, value]) => [
    name,
    Array.isArray(value) ? value[0] : value,
  ]);
  return Object.fromEntries(entries);
}
