import type { Context } from "hono";
import type { AppEnv } from "../env";
import { problemResponse } from "../problems/problem";
import type { RouteTable } from "./route-table";

/** Answers where no route did: 405 with `Allow` where the path is known, else 404. */
export function unmatchedHandler(routeOf: RouteTable): (c: Context<AppEnv>) => Response {
  return (c) => {
    const route = routeOf(c.req.path);
    if (route === undefined) {
      return problemResponse(c, "not-found", { detail: "No operation has this path; see /docs for those that exist." });
    }
    const allow = [...route.methods].sort().join(", ");
    return problemResponse(c, "method-not-allowed", {
      detail: `${c.req.method} is not taken here; allowed: ${allow}.`,
      headers: { Allow: allow },
    });
  };
}
