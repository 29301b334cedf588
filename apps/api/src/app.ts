import { OpenAPIHono } from "@hono/zod-openapi";
import type { AppEnv } from "./env";
import { isNormalPath, pathOf } from "./middleware/normal-path";
import { type Guarded, Pipeline } from "./middleware/pipeline";
import type { PolicySettings } from "./middleware/policy-settings";
import { UNMATCHED } from "./middleware/request-context";
import { openApiDocument } from "./openapi-document";
import { ForecastRequest } from "./operations/forecast/forecast.schema";
import { guardedOperation } from "./operations/guarded-operation";
import { operations as allOperations } from "./operations/index";
import type { AnyOperation } from "./operations/operation";
import { openPath, pages } from "./pages/pages";
import { statePaths } from "./pages/state";
import { ProblemError } from "./problems/problem";
import type { Services } from "./services";

export interface AppOptions {
  readonly policies?: PolicySettings;
  /** The contract as it was written before; written from the code without. */
  readonly contract?: () => Promise<string | undefined>;
  /** What the app answers; all of the API unless told. */
  readonly operations?: readonly AnyOperation[];
}

export type FieldstopApp = OpenAPIHono<AppEnv>;

const METHODS = ["DELETE", "GET", "HEAD", "OPTIONS", "PATCH", "POST", "PUT"];

/**
 * The service as one fetch-style app. The pipeline stands in the handler of each path, so that policies judge what the router matched; a path is
 * mounted only with a policy, and whatever matches nothing passes through the pipeline too.
 */
export function createApp(services: Services, options: AppOptions = {}): FieldstopApp {
  const { policies = {}, operations = allOperations, contract } = options;
  const app = new OpenAPIHono<AppEnv>();
  const pipeline = new Pipeline(policies, {
    dataVersion: () => services.terrain?.dataVersion ?? "",
    nowMs: () => services.nowMs(),
    reportFault: (error, requestId) => services.reportFault(error, requestId),
  });
  const mount = <Input>(method: string, guarded: Guarded<Input>): void => {
    const hasParams = guarded.template.includes(":");
    app.on(method, guarded.template, (c) =>
      pipeline.respond(
        c.req.raw,
        guarded,
        hasParams ? { env: c.env ?? {}, params: c.req.param() } : { env: c.env ?? {} },
      ),
    );
  };
  for (const operation of operations) {
    app.openAPIRegistry.registerPath(operation.route);
    mount(operation.route.method.toUpperCase(), guardedOperation(operation, services));
  }
  // its places are judged one by one, so that no route's schema names their shape
  app.openAPIRegistry.register("ForecastRequest", ForecastRequest);
  // written on the first request: most processes are never asked
  let document: Promise<string> | undefined;
  const contractText = async (): Promise<string> => (await contract?.()) ?? JSON.stringify(openApiDocument(app));
  const open = [...pages(() => (document ??= contractText())), ...statePaths(policies)];
  for (const path of open) mount("GET", path);

  app.notFound((c) => {
    const allowed = METHODS.filter((method) => {
      // the router knows HEAD as GET
      return app.router.match(method === "HEAD" ? "GET" : method, c.req.path)[0].length > 0;
    });
    return pipeline.respond(c.req.raw, allowed.length > 0 ? notAllowed(allowed) : NOTHING_MATCHED, {
      env: c.env ?? {},
    });
  });
  const inner = app.fetch;
  app.fetch = (request, env, ...rest) => {
    const path = pathOf(request.url.slice(request.url.indexOf("/", request.url.indexOf("://") + 3)));
    // as it came, before any platform has put it in order
    const raw = pathOf((env as AppEnv["Bindings"] | undefined)?.incoming?.url ?? path);
    if (isNormalPath(path) && raw === path) return inner(request, env, ...rest);
    return pipeline.respond(request, NOT_NORMAL, { env: env ?? {} });
  };
  return app;
}

const NOTHING_MATCHED: Guarded<undefined> = {
  ...openPath(UNMATCHED, "no-store", () => {
    throw new ProblemError("not-found", { detail: "No operation has this path; see /docs for those that exist." });
  }),
  policy: { access: "guarded" },
};

const NOT_NORMAL = openPath(UNMATCHED, "no-store", () => {
  throw new ProblemError("not-found", { detail: "No operation has this path; paths are written without escapes." });
});

function notAllowed(allowed: readonly string[]): Guarded<undefined> {
  const names = allowed.join(", ");
  return {
    ...NOTHING_MATCHED,
    answer: ({ request }) => {
      const detail = `${request.method} is not taken here; allowed: ${names}.`;
      throw new ProblemError("method-not-allowed", { detail, headers: { Allow: names } });
    },
  };
}
