import type { OpenAPIHono } from "@hono/zod-openapi";
import type { AppEnv } from "../env";
import type { OperationPolicy } from "../middleware/operation-policy";
import { ProblemError } from "../problems/problem";
import { DOCS_START_SCRIPT, docsPage } from "./docs-page";
import { ICON } from "./icon";
import { landingPage } from "./landing-page";
import { LANDING_SCRIPT } from "./landing-script";
import { PAGE_STYLE } from "./page-style";
import { isProblemKey, problemPage } from "./problem-page";

/** A file of the docs page by its name, where there is one. */
export type DocsAsset = (name: string) => { readonly body: Uint8Array<ArrayBuffer>; readonly type: string } | undefined;

/** Of the pages and files: they change with the service's version alone. */
export const PAGE_POLICIES: Readonly<Record<string, OperationPolicy>> = Object.fromEntries(
  [
    "/",
    "/landing.js",
    "/page.css",
    "/icon.svg",
    "/openapi.json",
    "/docs",
    "/docs/start.js",
    "/docs/:file",
    "/problems/:key",
  ].map((path) => [path, { lifetime: "passing" }]),
);

/** The pages that people read: the landing page, the reference and a page for each type of problem. */
export function mountPages(app: OpenAPIHono<AppEnv>, docsAsset: DocsAsset): void {
  app.get("/", (c) => c.html(landingPage()));
  app.get("/landing.js", (c) => c.body(LANDING_SCRIPT, 200, { "Content-Type": "text/javascript" }));
  app.get("/page.css", (c) => c.body(PAGE_STYLE, 200, { "Content-Type": "text/css" }));
  app.get("/icon.svg", (c) => c.body(ICON, 200, { "Content-Type": "image/svg+xml" }));
  app.get("/docs", (c) => c.html(docsPage()));
  app.get("/docs/start.js", (c) => c.body(DOCS_START_SCRIPT, 200, { "Content-Type": "text/javascript" }));
  app.get("/docs/:file", (c) => {
    const asset = docsAsset(c.req.param("file"));
    if (asset === undefined) throw nothingHere();
    return c.body(asset.body, 200, { "Content-Type": asset.type });
  });
  app.get("/problems/:key", (c) => {
    const key = c.req.param("key");
    if (!isProblemKey(key)) throw nothingHere();
    return c.html(problemPage(key));
  });
}

function nothingHere(): ProblemError {
  return new ProblemError("not-found", { detail: "Nothing has this name." });
}
