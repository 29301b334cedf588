import type { InputPart } from "@fieldstop/answers";
import { OpenAPIHono } from "@hono/zod-openapi";
import type { Context, MiddlewareHandler } from "hono";
import { HTTPException } from "hono/http-exception";
import type { AppEnv } from "./env";
import { judgeAccept } from "./middleware/guard-accept";
import { countBody, judgeBody } from "./middleware/guard-body";
import { judgeQuery } from "./middleware/guard-query";
import { cutShort } from "./middleware/json-body";
import type { JsonOperation } from "./middleware/json-operations";
import { mountOperations } from "./middleware/mount-operations";
import { mountState, STATE_POLICIES } from "./middleware/mount-state";
import type { OperationPolicy } from "./middleware/operation-policy";
import { Policies } from "./middleware/policies";
import type { PolicySettings } from "./middleware/policy-settings";
import { routeTable } from "./middleware/route-table";
import { unmatchedHandler } from "./middleware/unmatched";
import { openApiDocument } from "./openapi-document";
import { ForecastRequest } from "./operations/forecast/forecast.schema";
import { operations as allOperations } from "./operations/index";
import type { AnyOperation } from "./operations/operation";
import { formValues } from "./operations/shared/form";
import { mountPages, PAGE_POLICIES } from "./pages/mount-pages";
import type { ProblemKey } from "./problems/catalogue";
import { errorAnswer, invalidInput } from "./problems/error-answer";
import { knownProblem } from "./problems/known-problem";
import { problemResponse } from "./problems/problem";
import type { Services } from "./services";
import { servicesFor } from "./services-for";

export interface AppOptions {
  readonly policies?: PolicySettings;
  /** The contract as it was written before; written from the code without. */
  readonly contract?: () => Promise<string | undefined>;
  /** What the app answers; all of the API unless told. */
  readonly operations?: readonly AnyOperation[];
}

export interface FieldstopApp extends OpenAPIHono<AppEnv> {
  /** What stands round it, for a platform that can write answers by itself. */
  readonly policies: Policies;
  /** The operations on JSON bodies, by their paths, for a platform that can read bodies by itself. */
  readonly onBodies: ReadonlyMap<string, JsonOperation>;
}

/** The service as one fetch-style app. */
export function createApp(services: Services, options: AppOptions = {}): FieldstopApp {
  const { policies = {}, operations = allOperations, contract } = options;
  const app = new OpenAPIHono<AppEnv>({
    defaultHook: async (result, c) => {
      if (result.success) return;
      const part = result.target as InputPart;
      return c.env.exchange.handOver(invalidInput(c.env.exchange, part, await inputOf(c, part), result.error));
    },
  });

  const forExchange = servicesFor(services);
  app.use((c, next) => {
    c.set("services", forExchange(c.env.exchange));
    return next();
  });
  // where nothing answers that is told first, whatever came along
  const guard: MiddlewareHandler = (c, next) => {
    const { path, method, raw } = c.req;
    if (routeOf(path)?.methods.has(method) !== true) return next();
    // these judge by themselves
    if (method === "POST" && onBodies.has(path)) return next();
    judgeAccept(raw, path);
    if (method !== "POST") {
      judgeQuery(c.env.exchange.query);
      return next();
    }
    judgeBody(raw, path);
    return countBody(c, next);
  };
  app.use("/v1/*", guard);
  const onBodies = mountOperations(app, operations, forExchange);
  // its places are judged one by one, so that no route's schema names their shape
  app.openAPIRegistry.register("ForecastRequest", ForecastRequest);
  // for the first who asks: most processes are never asked
  let document: Promise<string> | undefined;
  const written = async (): Promise<string> => (await contract?.()) ?? JSON.stringify(openApiDocument(app));
  const documentOnce = (): Promise<string> => {
    document ??= written();
    return document;
  };
  app.get("/openapi.json", async (c) => c.body(await documentOnce(), 200, { "Content-Type": "application/json" }));
  mountPages(app, documentOnce);
  mountState(app, policies);

  const routeOf = routeTable(app);
  app.notFound(unmatchedHandler(routeOf));
  app.onError((error, c) => {
    const { exchange } = c.env;
    const refuse = (key: ProblemKey, detail: string): Response => problemResponse(c, key, { detail });
    if (error instanceof HTTPException && error.status === 400) {
      return refuse("malformed-request", "The body is not a complete form.");
    }
    // the router's own judgement of a form's Content-Type, which is stricter than the guard's
    if (error instanceof HTTPException && error.status === 415) {
      return refuse("unsupported-media-type", "The body's Content-Type is not understood.");
    }
    const part = c.req.method === "POST" ? "json" : "query";
    // a caller who hung up in the middle of the body is no fault of ours
    const met = c.req.raw.signal.aborted && knownProblem(error, part) === undefined ? cutShort() : error;
    return exchange.handOver(errorAnswer(exchange, services, part, met));
  });

  const declared = new Map(
    operations.map(({ route, policy }) => [`${route.method} ${route.path.replace(/\{(\w+)\}/g, ":$1")}`, policy]),
  );
  const policyOf = (method: string, template: string): OperationPolicy | undefined =>
    declared.get(`${method.toLowerCase()} ${template}`) ?? PAGE_POLICIES[template] ?? STATE_POLICIES[template];
  const standing = new Policies({ services, settings: policies, routeOf, policyOf });
  const inner = app.fetch;
  app.fetch = (request, env) => standing.fetch(inner, request, env ?? {});
  return Object.assign(app, { policies: standing, onBodies });
}

/** What came in one part of a request, as its schema saw it. */
async function inputOf(c: Context, part: InputPart): Promise<unknown> {
  if (part === "form") return formValues(await c.req.parseBody({ all: true }));
  return part === "query" ? c.req.query() : c.req.param();
}
