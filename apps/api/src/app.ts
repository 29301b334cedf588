import type { InputPart } from "@fieldstop/answers";
import { OpenAPIHono } from "@hono/zod-openapi";
import type { Context, MiddlewareHandler } from "hono";
import { HTTPException } from "hono/http-exception";
import type { AppEnv } from "./env";
import { guardAccept } from "./http/guard-accept";
import { guardBody } from "./http/guard-body";
import { mountState, STATE_POLICIES } from "./http/mount-state";
import type { Operation } from "./http/operation";
import { routeTable } from "./http/route-table";
import { unmatchedHandler } from "./http/unmatched";
import { openApiDocument } from "./openapi-document";
import { type DocsAsset, mountPages, PAGE_POLICIES } from "./pages/mount-pages";
import type { OperationPolicy } from "./policies/operation-policy";
import { Policies } from "./policies/policies";
import type { PolicySettings } from "./policies/policy-settings";
import { fieldErrorsFromZod } from "./problems/from-zod";
import { knownProblem } from "./problems/known-problem";
import { problemResponse } from "./problems/problem";
import { operations as allOperations } from "./routes/index";
import { ForecastRequest } from "./schemas/forecast";
import { formValues } from "./schemas/form";
import type { Services } from "./services";
import { servicesFor } from "./services-for";

export interface AppOptions {
  readonly docsAsset?: DocsAsset;
  readonly policies?: PolicySettings;
  /** What the app answers; all of the API unless told. */
  readonly operations?: readonly Operation[];
}

export interface FieldstopApp extends OpenAPIHono<AppEnv> {
  /** What stands round it, for a platform that can write kept answers by itself. */
  readonly policies: Policies;
}

/** The service as one fetch-style app. */
export function createApp(services: Services, options: AppOptions = {}): FieldstopApp {
  const { docsAsset = () => undefined, policies = {}, operations = allOperations } = options;
  const app = new OpenAPIHono<AppEnv>({
    defaultHook: async (result, c) => {
      if (result.success) return;
      const part = result.target as InputPart;
      const errors = fieldErrorsFromZod(part, await inputOf(c, part), result.error);
      const detail = errors.map((error) => `${error.pointer || "the body"}: ${error.detail}`).join("; ");
      return problemResponse(c, "invalid-input", { detail, errors });
    },
  });

  const forExchange = servicesFor(services);
  app.use((c, next) => {
    c.set("services", forExchange(c.env.exchange));
    return next();
  });
  // where nothing answers that is told first, whatever came along
  const whereAnswered =
    (guard: MiddlewareHandler): MiddlewareHandler =>
    (c, next) =>
      routeOf(c.req.path)?.methods.has(c.req.method) === true ? guard(c, next) : next();
  app.use("/v1/*", whereAnswered(guardAccept), whereAnswered(guardBody));

  app.openapiRoutes(operations);
  // its places are judged one by one, so that no route's schema names their shape
  app.openAPIRegistry.register("ForecastRequest", ForecastRequest);
  // written for the first who asks: that takes a tenth of a second, and most processes are never asked
  let document: string | undefined;
  const written = (): string => {
    document ??= JSON.stringify(openApiDocument(app));
    return document;
  };
  app.get("/openapi.json", (c) => c.body(written(), 200, { "Content-Type": "application/json" }));
  mountPages(app, docsAsset);
  mountState(app, policies);

  const routeOf = routeTable(app);
  app.notFound(unmatchedHandler(routeOf));
  app.onError((error, c) => {
    const known = knownProblem(error, c.req.method === "POST" ? "json" : "query");
    if (known !== undefined) return problemResponse(c, known.key, known.details);
    if (error instanceof HTTPException && error.status === 400) {
      const form = /^multipart\//i.test(c.req.header("Content-Type") ?? "");
      const detail = form ? "The body is not a complete form." : "The body is not a JSON document.";
      return problemResponse(c, "malformed-request", { detail });
    }
    // the router's own judgement of a Content-Type, which is stricter than the guard's
    if (error instanceof HTTPException && error.status === 415) {
      return problemResponse(c, "unsupported-media-type", { detail: "The body's Content-Type is not understood." });
    }
    // work that was given up since nobody waited for it is no fault either
    if (c.env.exchange.isOver) {
      return problemResponse(c, "unavailable", { detail: "Nobody waited for the answer any more." });
    }
    // a caller who hung up in the middle of the body is no fault of ours, and reads no answer
    if (c.req.raw.signal.aborted) {
      return problemResponse(c, "malformed-request", { detail: "The body is cut short." });
    }
    services.reportFault(error, c.env.exchange.requestId);
    return problemResponse(c, "internal", { detail: "The service met a fault of its own." });
  });

  const declared = new Map(
    operations.map(({ route, policy }) => [`${route.method} ${route.path.replace(/\{(\w+)\}/g, ":$1")}`, policy]),
  );
  const policyOf = (method: string, template: string): OperationPolicy | undefined =>
    declared.get(`${method.toLowerCase()} ${template}`) ?? PAGE_POLICIES[template] ?? STATE_POLICIES[template];
  const standing = new Policies({ services, settings: policies, routeOf, policyOf });
  const inner = app.fetch;
  app.fetch = (request, env) => standing.fetch(inner, request, env ?? {});
  return Object.assign(app, { policies: standing });
}

/** What came in one part of a request, as its schema saw it. */
async function inputOf(c: Context, part: InputPart): Promise<unknown> {
  if (part === "json") return c.req.json();
  if (part === "form") return formValues(await c.req.parseBody({ all: true }));
  return part === "query" ? c.req.query() : c.req.param();
}
