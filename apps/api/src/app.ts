import type { InputPart } from "@fieldstop/answers";
import { OpenAPIHono } from "@hono/zod-openapi";
import type { Context } from "hono";
import { HTTPException } from "hono/http-exception";
import { requestId } from "hono/request-id";
import type { AppEnv } from "./env";
import { guardAccept } from "./http/guard-accept";
import { guardBody } from "./http/guard-body";
import { unmatchedHandler } from "./http/unmatched";
import { openApiDocument } from "./openapi-document";
import { type DocsAsset, mountPages } from "./pages/mount-pages";
import { fieldErrorsFromZod } from "./problems/from-zod";
import { knownProblem } from "./problems/known-problem";
import { problemResponse } from "./problems/problem";
import { operations } from "./routes/index";
import { ForecastRequest } from "./schemas/forecast";
import { formValues } from "./schemas/form";
import type { Services } from "./services";

/** The service as one fetch-style app. */
export function createApp(services: Services, docsAsset: DocsAsset = () => undefined): OpenAPIHono<AppEnv> {
  const app = new OpenAPIHono<AppEnv>({
    defaultHook: async (result, c) => {
      if (result.success) return;
      const part = result.target as InputPart;
      const errors = fieldErrorsFromZod(part, await inputOf(c, part), result.error);
      const detail = errors.map((error) => `${error.pointer || "the body"}: ${error.detail}`).join("; ");
      return problemResponse(c, "invalid-input", { detail, errors });
    },
  });

  app.use(requestId());
  app.use(async (c, next) => {
    c.set("services", services);
    c.header("X-Content-Type-Options", "nosniff");
    await next();
  });
  app.use("/v1/*", guardAccept, guardBody);

  app.openapiRoutes(operations);
  // its places are judged one by one, so that no route's schema names their shape
  app.openAPIRegistry.register("ForecastRequest", ForecastRequest);
  const document = JSON.stringify(openApiDocument(app));
  app.get("/openapi.json", (c) => c.body(document, 200, { "Content-Type": "application/json" }));
  mountPages(app, docsAsset);
  app.get("/healthz", (c) => c.json({ status: "ok" }));

  app.notFound(unmatchedHandler(app));
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
    // a caller who hung up in the middle of the body is no fault of ours, and reads no answer
    if (c.req.raw.signal.aborted) {
      return problemResponse(c, "malformed-request", { detail: "The body is cut short." });
    }
    services.reportFault(error, c.get("requestId"));
    return problemResponse(c, "internal", { detail: "The service met a fault of its own." });
  });
  return app;
}

/** What came in one part of a request, as its schema saw it. */
async function inputOf(c: Context, part: InputPart): Promise<unknown> {
  if (part === "json") return c.req.json();
  if (part === "form") return formValues(await c.req.parseBody({ all: true }));
  return part === "query" ? c.req.query() : c.req.param();
}
