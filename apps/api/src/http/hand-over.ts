import type { RouteConfig, RouteHandler } from "@hono/zod-openapi";
import type { Context } from "hono";
import type { AppEnv } from "../env";
import { answerJson } from "./answer";

/**
 * A handler whose `c.json` and `c.header` hand the answer and its fields to the policies, which make the one response: one that the router makes is
 * dear to read again, and dear to add fields to.
 */
export function handOver<R extends RouteConfig>(handler: RouteHandler<R, AppEnv>): RouteHandler<R, AppEnv> {
  return ((c, next) => {
    const { exchange } = c.env as AppEnv["Bindings"];
    c.json = answerJson(exchange);
    c.header = ((name, value, options) => exchange.setField(name, value, options?.append)) as Context["header"];
    return handler(c, next);
  }) as RouteHandler<R, AppEnv>;
}
