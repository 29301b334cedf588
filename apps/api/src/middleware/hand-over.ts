import type { RouteConfig, RouteHandler } from "@hono/zod-openapi";
import type { Context } from "hono";
import type { AppEnv } from "../env";
import type { OperationHandler } from "../operations/operation-context";
import { jsonAnswerOf } from "./answer";

/**
 * A handler whose `c.json` and `c.header` hand the answer and its fields to the policies, which make the one response: one that the router makes is
 * dear to read again, and dear to add fields to.
 */
export function handOver<R extends RouteConfig>(handler: OperationHandler<R>): RouteHandler<R, AppEnv> {
  return ((c) => {
    const { exchange } = c.env as AppEnv["Bindings"];
    c.json = ((...answer: Parameters<typeof jsonAnswerOf>) =>
      exchange.handOver(jsonAnswerOf(...answer))) as Context["json"];
    c.header = ((name, value, options) => exchange.setField(name, value, options?.append)) as Context["header"];
    return handler(c);
  }) as RouteHandler<R, AppEnv>;
}
