import type { OpenAPIHono } from "@hono/zod-openapi";
import type { Context } from "hono";
import type { AppEnv } from "../env";
import { problemResponse } from "../problems/problem";

/** Answers where no route did: 405 with `Allow` where the path is known, else 404. Made once all routes are registered. */
export function unmatchedHandler(app: OpenAPIHono<AppEnv>): (c: Context<AppEnv>) => Response {
  const known = new Map<string, { pattern: RegExp; methods: Set<string> }>();
  for (const { path, method } of app.routes) {
    if (method === "ALL") continue;
    const entry = known.get(path) ?? { pattern: patternOf(path), methods: new Set<string>() };
    entry.methods.add(method);
    if (method === "GET") entry.methods.add("HEAD");
    known.set(path, entry);
  }
  return (c) => {
    const methods = new Set<string>();
    for (const { pattern, methods: taken } of known.values()) {
      if (pattern.test(c.req.path)) for (const method of taken) methods.add(method);
    }
    if (methods.size === 0) {
      return problemResponse(c, "not-found", { detail: "No operation has this path; see /docs for those that exist." });
    }
    const allow = [...methods].sort().join(", ");
    return problemResponse(c, "method-not-allowed", {
      detail: `${c.req.method} is not taken here; allowed: ${allow}.`,
      headers: { Allow: allow },
    });
  };
}

function patternOf(path: string): RegExp {
  const source = path
    .split("/")
    .map((part) => (part.startsWith(":") ? "[^/]+" : part.replace(/[.*+?^${}()|[\]\\]/g, "\\$&")))
    .join("/");
  return new RegExp(`^${source}$`);
}
