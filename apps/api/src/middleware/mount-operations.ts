import type { OpenAPIHono, RouteConfig } from "@hono/zod-openapi";
import type { AppEnv } from "../env";
import type { AnyOperation } from "../operations/operation";
import type { OperationHandler } from "../operations/operation-context";
import { ProblemError } from "../problems/problem";
import type { Services } from "../services";
import type { Exchange } from "./exchange";
import { countBody } from "./guard-body";
import { handOver } from "./hand-over";
import { cutShort } from "./json-body";
import { type JsonOperation, jsonOperation, jsonSchemaOf } from "./json-operations";

const nothing = (): Promise<void> => Promise.resolve();

/**
 * Every operation, as the router asks it. Those on JSON bodies are asked through what it returns, so that whoever else brings a body asks the very same.
 * @returns the operations on JSON bodies, by their paths
 */
export function mountOperations(
  app: OpenAPIHono<AppEnv>,
  operations: readonly AnyOperation[],
  servicesOf: (exchange: Exchange) => Services,
): ReadonlyMap<string, JsonOperation> {
  const onBodies = new Map<string, JsonOperation>();
  for (const operation of operations) {
    const { route, handler } = operation;
    const schema = jsonSchemaOf(route);
    if (schema === undefined) {
      app.openapi(route, handOver(handler as OperationHandler<RouteConfig>));
      continue;
    }
    const onBody = jsonOperation(operation, schema, servicesOf);
    onBodies.set(route.path, onBody);
    app.openAPIRegistry.registerPath(route);
    app.post(route.path, async (c) => {
      const read = async (): Promise<ArrayBuffer> => {
        try {
          await countBody(c, nothing);
          return await c.req.raw.arrayBuffer();
        } catch (error) {
          throw error instanceof ProblemError ? error : cutShort();
        }
      };
      return c.env.exchange.handOver(await onBody.answer(c.env.exchange, read));
    });
  }
  return onBodies;
}
