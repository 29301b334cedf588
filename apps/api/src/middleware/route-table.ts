import type { OpenAPIHono } from "@hono/zod-openapi";
import type { AppEnv } from "../env";

export interface KnownRoute {
  /** The path as it was declared: `/v1/reference/:table`. */
  readonly template: string;
  readonly methods: ReadonlySet<string>;
}

/** Which declared path an actual one falls under. */
export type RouteTable = (path: string) => KnownRoute | undefined;

/** Of the routes that an app has by now. */
export function routeTable(app: OpenAPIHono<AppEnv>): RouteTable {
  const fixed = new Map<string, { template: string; methods: Set<string> }>();
  for (const { path, method } of app.routes) {
    if (method === "ALL") continue;
    const route = fixed.get(path) ?? { template: path, methods: new Set<string>() };
    route.methods.add(method);
    if (method === "GET") route.methods.add("HEAD");
    fixed.set(path, route);
  }
  const patterns = [...fixed.values()]
    .filter(({ template }) => template.includes("/:"))
    .map((route) => ({ route, pattern: patternOf(route.template) }));
  for (const { route } of patterns) fixed.delete(route.template);
  return (path) => fixed.get(path) ?? patterns.find(({ pattern }) => pattern.test(path))?.route;
}

function patternOf(path: string): RegExp {
  const source = path
    .split("/")
    .map((part) => (part.startsWith(":") ? "[^/]+" : part.replace(/[.*+?^${}()|[\]\\]/g, "\\$&")))
    .join("/");
  return new RegExp(`^${source}$`);
}
