import { type RouteConfig, z } from "@hono/zod-openapi";
import type { AnyOperation } from "../operations/operation";
import { errorAnswer, invalidInput } from "../problems/error-answer";
import type { Services } from "../services";
import { BodyContext } from "./body-context";
import type { Answer, Exchange } from "./exchange";
import { judgeAccept } from "./guard-accept";
import { judgeBody } from "./guard-body";
import { parseJsonBody } from "./json-body";
import { JSON_TYPE, NDJSON_TYPE } from "./representations";
import { andThen, orElse, type Soon } from "./soon";

/** An operation on a JSON body, as whoever brings the body asks it. */
export interface JsonOperation {
  /** Whether it answers in one piece, and not as it goes. */
  readonly whole: boolean;
  /** @param read reads the body, once its announcement was judged */
  answer(exchange: Exchange, read: () => Soon<Uint8Array | ArrayBuffer>): Soon<Answer>;
}

/** What an operation reads a JSON body by; undefined where it takes none. */
export function jsonSchemaOf({ request }: RouteConfig): z.ZodType | undefined {
  const media = request?.body?.content[JSON_TYPE];
  const schema = media !== undefined && "schema" in media ? media.schema : undefined;
  return schema instanceof z.ZodType ? schema : undefined;
}

/**
 * An operation's guards, schema and handler, for a body from anywhere.
 * @param servicesOf what an exchange has of the services
 */
export function jsonOperation(
  { route, handler }: AnyOperation,
  schema: z.ZodType,
  servicesOf: (exchange: Exchange) => Services,
): JsonOperation {
  const answerTo = (exchange: Exchange, input: unknown): Soon<Answer> => {
    const read = schema.safeParse(input);
    if (!read.success) return invalidInput(exchange, "json", input, read.error);
    const handled = handler(new BodyContext(exchange, servicesOf(exchange), read.data) as never);
    return andThen(handled, () => exchange.taken);
  };
  const content = (route.responses as Record<number, { readonly content?: object }>)[200]?.content ?? {};
  return {
    whole: !Object.hasOwn(content, NDJSON_TYPE),
    answer: (exchange, read) =>
      orElse(
        () => {
          judgeAccept(exchange.request, route.path);
          judgeBody(exchange.request, route.path);
          return andThen(read(), (body) => answerTo(exchange, parseJsonBody(body)));
        },
        (error) => errorAnswer(exchange, servicesOf(exchange), "json", error),
      ),
  };
}
