import type { RouteConfig } from "@hono/zod-openapi";
import type { AppEnv } from "../env";
import type { AskedFor, OperationContext } from "../operations/operation-context";
import type { Services } from "../services";
import { jsonAnswerOf } from "./answer";
import type { Exchange } from "./exchange";

/** What the handler of an operation on a body finds: no router need have made it. */
export class BodyContext implements OperationContext<RouteConfig> {
  readonly env: AppEnv["Bindings"];
  readonly var: AppEnv["Variables"];
  readonly req: AskedFor & { readonly valid: () => never };

  /** @param input the body as the operation's schema has read it */
  constructor(exchange: Exchange, services: Services, input: unknown) {
    this.env = { exchange };
    this.var = { services };
    this.req = new AskedBody(exchange, input);
  }

  json = ((value: unknown, status = 200, fields?: Record<string, string>) => {
    this.env.exchange.take(jsonAnswerOf(value, status, fields));
  }) as unknown as OperationContext<RouteConfig>["json"];

  header(name: string, value: string): void {
    this.env.exchange.setField(name, value);
  }
}

class AskedBody implements AskedFor {
  readonly #exchange: Exchange;
  readonly #input: unknown;

  constructor(exchange: Exchange, input: unknown) {
    this.#exchange = exchange;
    this.#input = input;
  }

  get method(): string {
    return this.#exchange.request.method;
  }

  get path(): string {
    return this.#exchange.path;
  }

  header(name: string): string | undefined {
    return this.#exchange.request.headers.get(name.toLowerCase()) ?? undefined;
  }

  valid(): never {
    return this.#input as never;
  }
}
