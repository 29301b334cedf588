import type { OpenAPIHono } from "@hono/zod-openapi";
import type { AppEnv } from "../env";
import { ProblemError } from "../problems/problem";
import type { OperationPolicy } from "./operation-policy";
import type { PolicySettings } from "./policy-settings";

/** Of what changes from one moment to the next. */
export const STATE_POLICIES: Readonly<Record<string, OperationPolicy>> = {
  "/healthz": { lifetime: "momentary" },
  "/readyz": { lifetime: "momentary" },
  "/metrics": { lifetime: "momentary" },
};

/** What operators and their machines ask: whether it lives, whether it is ready, and the counts. */
export function mountState(app: OpenAPIHono<AppEnv>, { readiness, metrics }: PolicySettings): void {
  app.get("/healthz", (c) => c.json({ status: "ok" }));
  app.get("/readyz", async (c) => {
    const answer = readiness === undefined ? { status: "ready", checks: {} } : await readiness();
    return c.json(answer, answer.status === "unready" ? 503 : 200);
  });
  app.get("/metrics", async (c) => {
    if (metrics === undefined) throw new ProblemError("not-found", { detail: "This service counts nothing." });
    const { body, type } = await metrics.text();
    return c.body(body, 200, { "Content-Type": type });
  });
}
