import type { RouteConfig, RouteHandler } from "@hono/zod-openapi";
import type { AppEnv } from "../env";

/** What those who write an answer find. */
export interface AnswerContext {
  readonly env: AppEnv["Bindings"];
  readonly var: AppEnv["Variables"];
  readonly req: AskedFor;
  readonly header: (name: string, value: string) => void;
}

/** What was asked for, and in which form. */
export interface AskedFor {
  readonly method: string;
  readonly path: string;
  readonly header: (name: string) => string | undefined;
}

type RouterContext<R extends RouteConfig> = Parameters<RouteHandler<R, AppEnv>>[0];

/** What the handler of an operation finds, whatever brought the request: the router's context is one, and so is a `BodyContext`. */
export interface OperationContext<R extends RouteConfig> extends AnswerContext {
  readonly req: AskedFor & Pick<RouterContext<R>["req"], "valid">;
  readonly json: RouterContext<R>["json"];
}

/** The handler of an operation. */
export type OperationHandler<R extends RouteConfig> = (c: OperationContext<R>) => ReturnType<RouteHandler<R, AppEnv>>;
