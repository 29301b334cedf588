import type { OpenAPIHono } from "@hono/zod-openapi";
import type { AppEnv } from "../env";
import type { OperationPolicy } from "../middleware/operation-policy";
import { ProblemError } from "../problems/problem";
import { type Contract, operationsOf } from "./contract";
import { docsPage } from "./docs-page";
import { ICON } from "./icon";
import { landingPage } from "./landing-page";
import { operationPage } from "./operation-page";
import { PAGE_SCRIPT } from "./page-script";
import { PAGE_STYLE } from "./page-style";
import { isProblemKey, problemPage } from "./problem-page";

/** Of the pages and files: they change with the service's version alone. */
export const PAGE_POLICIES: Readonly<Record<string, OperationPolicy>> = Object.fromEntries(
  ["/", "/page.js", "/page.css", "/icon.svg", "/openapi.json", "/docs", "/docs/:operation", "/problems/:key"].map(
    (path) => [path, { lifetime: "passing" }],
  ),
);

/** The pages that people read: the landing page, the reference of the contract and a page for each type of problem. */
export function mountPages(app: OpenAPIHono<AppEnv>, contractText: () => Promise<string>): void {
  let parsed: Promise<Contract> | undefined;
  const contract = (): Promise<Contract> => {
    parsed ??= contractText().then((text) => JSON.parse(text) as Contract);
    return parsed;
  };
  app.get("/", (c) => c.html(landingPage()));
  app.get("/page.js", (c) => c.body(PAGE_SCRIPT, 200, { "Content-Type": "text/javascript" }));
  app.get("/page.css", (c) => c.body(PAGE_STYLE, 200, { "Content-Type": "text/css" }));
  app.get("/icon.svg", (c) => c.body(ICON, 200, { "Content-Type": "image/svg+xml" }));
  app.get("/docs", async (c) => c.html(docsPage(await contract())));
  app.get("/docs/:operation", async (c) => {
    const name = c.req.param("operation");
    const known = await contract();
    const operation = operationsOf(known).find(({ operationId }) => operationId === name);
    if (operation === undefined) throw nothingHere();
    return c.html(operationPage(known, operation));
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
